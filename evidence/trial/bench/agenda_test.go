package bench_test

import (
	"bytes"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	ics "github.com/arran4/golang-ical"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/bench"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/trialtest"
)

var stamp = time.Date(2026, 1, 2, 12, 34, 32, 0, time.UTC)

// RFC 5545: lines end in CRLF and hold at most 75 octets (3.1), required
// properties (3.6, 3.6.1), all-day dates whose end is the day after (3.6.1), TEXT
// escapes (3.3.11).
func TestCalendar(t *testing.T) {
	p := trialtest.Questions(t, 400)
	p.Taxon = "Branchinecta exempli; dark, dry " + strings.Repeat("°", 60)
	var b bytes.Buffer
	if err := bench.WriteCalendar(&b, p, stamp); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	for line := range strings.SplitSeq(strings.TrimSuffix(text, "\r\n"), "\r\n") {
		if len(line) > 75 || strings.ContainsAny(line, "\r\n") || !utf8.ValidString(line) {
			t.Errorf("line of %d octets: %q", len(line), line)
		}
	}
	unfolded := strings.ReplaceAll(text, "\r\n ", "")
	for _, want := range []string{"VERSION:2.0\r\n", "PRODID:-//hatchlore//trial calendar//EN\r\n", "DTSTAMP:20260102T123432Z\r\n",
		"DTSTART;VALUE=DATE:20260110\r\n", "DTEND;VALUE=DATE:20260111\r\n", `exempli\; dark\, dry ` + strings.Repeat("°", 60)} {
		if !strings.Contains(unfolded, want) {
			t.Errorf("no %q in the calendar", want)
		}
	}
	events := strings.Count(unfolded, "BEGIN:VEVENT")
	for _, must := range []string{"UID:", "DTSTAMP:", "DTSTART;"} {
		if n := strings.Count(unfolded, "\r\n"+must); n != events || n != len(bench.Agenda(p)) {
			t.Errorf("%d of %d events have %s", n, events, must)
		}
	}
	back, err := ics.ParseCalendar(strings.NewReader(text))
	if err != nil || len(back.Events()) != events {
		t.Errorf("read back: %v", err)
	}
	var again bytes.Buffer
	if err := bench.WriteCalendar(&again, p, stamp); err != nil || again.String() != text {
		t.Error("the same plan gives another calendar")
	}
}

// A line of 75 octets is not folded, one of 76 becomes 75 and 2, and a fold never
// splits a character: SUMMARY: with 40 degree signs folds as 74 and 15 octets.
func TestCalendarFolding(t *testing.T) {
	for _, tt := range []struct {
		summary string
		want    []int
	}{{strings.Repeat("a", 67), []int{75}}, {strings.Repeat("a", 68), []int{75, 2}}, {strings.Repeat("°", 40), []int{74, 15}}} {
		cal := ics.NewCalendar()
		cal.AddEvent("x").SetSummary(tt.summary)
		var got []int
		for line := range strings.SplitSeq(cal.Serialize(ics.WithNewLineWindows), "\r\n") {
			if strings.HasPrefix(line, "SUMMARY") || strings.HasPrefix(line, " ") {
				got = append(got, len(line))
			}
		}
		if len(got) != len(tt.want) || got[0] != tt.want[0] || got[len(got)-1] != tt.want[len(tt.want)-1] {
			t.Errorf("%d octets fold as %v, want %v", len("SUMMARY:"+tt.summary), got, tt.want)
		}
	}
}

func TestAgenda(t *testing.T) {
	p := trialtest.Questions(t, 400)
	steps, tasks := 0, 0
	for _, d := range p.Dishes {
		steps += len(d.Steps)
	}
	last := p.Start
	for _, task := range bench.Agenda(p) {
		tasks += len(task.Dishes)
		if task.Date.Before(last) {
			t.Errorf("%s after %s", task.Date, last)
		}
		last = task.Date
	}
	if steps != tasks || last != p.End {
		t.Errorf("%d steps, %d in the agenda; it ends on %s, the plan on %s", steps, tasks, last, p.End)
	}
}

// A count sheet filled in is read back as counts of the plan.
func TestCountSheet(t *testing.T) {
	p := trialtest.Questions(t, 400)
	var b bytes.Buffer
	if err := bench.WriteCountSheet(&b, p); err != nil {
		t.Fatal(err)
	}
	if _, err := counts.Read(bytes.NewReader(b.Bytes())); err == nil || !strings.Contains(err.Error(), "no counts yet") {
		t.Errorf("an empty sheet: %v", err)
	}
	looks := 0
	for _, task := range bench.Agenda(p) {
		if task.Act == trial.ActLook {
			looks += len(task.Dishes)
		}
	}
	c := trialtest.Sheet(t, strings.ReplaceAll(b.String(), ",,,,\r\n", ",0,1,0,\r\n"))
	if len(c.Looks) != looks || looks < len(p.Dishes)*5 {
		t.Errorf("%d looks, want %d", len(c.Looks), looks)
	}
	if _, err := counts.Take(p, nil, c); err != nil {
		t.Error(err)
	}
}

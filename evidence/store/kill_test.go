package store

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"hatchlore/evidence"
)

// killDir names the library for the test binary when it runs as the victim.
const killDir = "HATCHLORE_TEST_KILL_DIR"

func TestMain(m *testing.M) {
	if dir := os.Getenv(killDir); dir != "" {
		victim(dir)
	}
	os.Exit(m.Run())
}

// victim stores papers until it is killed, saying each that is in.
func victim(dir string) {
	s, err := Open(dir)
	if err != nil {
		fmt.Println("error", err)
		os.Exit(1)
	}
	c, err := s.Counts(ctx)
	for n := c.Papers; err == nil; n++ {
		fmt.Println("ready")
		p, claims := killPaper(n)
		if _, err = s.Put(ctx, p, claims); err == nil {
			fmt.Println("stored", n)
			_, err = s.Decide(ctx, claims[0].ID, Decision{Verdict: evidence.Accepted, Reason: "seen"})
		}
		if err == nil {
			fmt.Println("decided", n)
			amended := claims[0]
			amended.Low, amended.High, amended.Bearing = num(28), num(31), evidence.Prevents
			_, err = s.Decide(ctx, claims[0].ID, Decision{Verdict: evidence.Amended, Amended: &amended, Reason: strings.Repeat("a long reason ", 500)})
		}
	}
	fmt.Println("error", err)
	os.Exit(1)
}

// killPaper has 1 to 12 pages of up to 20 kB, so that a kill finds some of them written.
func killPaper(n int) (Paper, []evidence.Claim) {
	var texts []string
	for i := range 1 + n%12 {
		texts = append(texts, textA+hexNoise(n*100+i, 2000+n*777%18000))
	}
	p := paper(n, texts...)
	c := evidence.Claim{Page: 1, Start: 8, End: 13, Quote: "Cysts", Taxon: "Branchinella ficta", Factor: evidence.ColdLength, Bearing: evidence.Favours,
		Low: num(30), Unit: "d", Printed: "30 days", Rule: "r1"}
	c.ID = c.MakeID(p.Hash)
	return p, []evidence.Claim{c}
}

func TestKill(t *testing.T) {
	kills := 30
	if testing.Short() {
		kills = 5
	}
	dir := t.TempDir()
	rnd := rand.New(rand.NewPCG(7, 7))
	stored, decided := 0, 0
	for kill := range kills {
		st, de := killOnce(t, dir, time.Duration(rnd.IntN(40_000))*time.Microsecond)
		stored, decided = max(stored, st), decided+de
		s, err := Open(dir)
		if err != nil {
			t.Fatalf("kill %d: %v", kill, err)
		}
		if faults, err := s.Faults(ctx); len(faults) > 0 || err != nil {
			t.Fatalf("kill %d: faults %v %v", kill, faults, err)
		}
		checkAmendments(t, kill, s)
		n := 0
		for l, err := range s.Papers(ctx) {
			if err != nil {
				t.Fatal(err)
			}
			var seed int
			fmt.Sscanf(l.Paper, "ficta%d", &seed)
			if p, claims := killPaper(seed - 1900); l.Pages != len(p.Pages) || l.Claims != len(claims) {
				t.Fatalf("kill %d: %s is not whole: %+v", kill, l.Paper, l)
			}
			n++
		}
		if n < stored {
			t.Fatalf("kill %d: %d papers, but %d were reported stored", kill, n, stored)
		}
		if c, err := s.Counts(ctx); c.Decisions < decided || err != nil {
			t.Fatalf("kill %d: %d decisions %v, but %d were reported made", kill, c.Decisions, err, decided)
		}
		s.Close()
	}
	t.Logf("%d kills, %d papers, %d decisions", kills, stored, decided)
	if stored == 0 || decided == 0 {
		t.Error("nothing was stored between kills: the test shows nothing")
	}
}

// checkAmendments fails unless each claim is as its last decision has it, all
// of it.
func checkAmendments(t *testing.T, kill int, s *Store) {
	t.Helper()
	claims, err := s.Claims(ctx, Filter{})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range claims {
		h, err := s.History(ctx, c.ID)
		if err != nil {
			t.Fatal(err)
		}
		last := evidence.Undecided
		if len(h) > 0 {
			last = h[len(h)-1].Verdict
		}
		whole := *c.Low == 30 && c.High == nil && c.Bearing == evidence.Favours
		if c.Decision == evidence.Amended {
			whole = *c.Low == 28 && *c.High == 31 && c.Bearing == evidence.Prevents
		}
		if c.Decision != last || !whole {
			t.Fatalf("kill %d: %s is %s after %d decisions, the last %s, and says %v %v %s", kill, c.ID, c.Decision, len(h), last, c.Low, c.High, c.Bearing)
		}
	}
}

// killOnce runs a victim, kills it some time after it is ready, and returns
// how many papers it said were in, over all, and how many decisions it said
// it had made.
func killOnce(t *testing.T, dir string, after time.Duration) (stored, decided int) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), killDir+"="+dir)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(out)
	ready := false
	for lines.Scan() {
		line := lines.Text()
		if strings.HasPrefix(line, "error") {
			t.Errorf("victim: %s", line)
		}
		if !ready {
			ready = true
			time.AfterFunc(after, func() { cmd.Process.Kill() })
		}
		var n int
		if _, err := fmt.Sscanf(line, "stored %d", &n); err == nil {
			stored = n + 1
		}
		if strings.HasPrefix(line, "decided") {
			decided++
		}
	}
	cmd.Wait()
	return stored, decided
}

package reference

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// pageYear finds the year of publication by the phrases that go with it, the
// surest first.
func pageYear(text string) int {
	text = strings.ToLower(text)
	for _, p := range yearPatterns {
		if m := p.FindStringSubmatch(text); m != nil {
			y, err := strconv.Atoi(m[1])
			if err == nil {
				return y
			}
		}
	}
	return 0
}

var yearLine = regexp.MustCompile(`^\(?(?:(?:\d{1,2}\.? )?\p{L}{3,10}\.?(?: \d{1,2})?,? )?(1[789]\d\d|20\d\d)\)?$`)

// loneYear is the year that has a line of its own, with a month at most: the first
// around the title, else the only one of the page. Of several further down, such as
// the cells of a table, none is the paper's.
func loneYear(lines []Line, first, end int) int {
	var further []int
	front := true
	for i, l := range lines {
		if i >= first && i < end {
			continue
		}
		front = front && i < end+8 && !bodyStart.MatchString(l.Text)
		m := yearLine.FindStringSubmatch(l.Text)
		if m == nil {
			continue
		}
		y, err := strconv.Atoi(m[1])
		switch {
		case err != nil:
		case front:
			return y
		case !slices.Contains(further, y):
			further = append(further, y)
		}
	}
	if len(further) == 1 {
		return further[0]
	}
	return 0
}

var yearAlone = regexp.MustCompile(`\b(1[789]\d\d|20\d\d)\b`)

// frontYear is the latest year in the short lines around the title: "Issued
// August 1968", "received 4 June 1990". The title's own years do not count.
func frontYear(lines []Line, first, end int) int {
	latest := 0
	for i, l := range lines {
		if i >= first && i < end {
			continue
		}
		if i >= end+8 || bodyStart.MatchString(l.Text) {
			break
		}
		if len(strings.Fields(l.Text)) > 14 {
			continue
		}
		for _, m := range yearAlone.FindAllString(l.Text, 4) {
			if y, err := strconv.Atoi(m); err == nil {
				latest = max(latest, y)
			}
		}
	}
	return latest
}

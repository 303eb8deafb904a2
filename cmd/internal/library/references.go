package library

import (
	"context"
	"fmt"
	"strings"
	"unicode"

	"hatchlore/cmd/internal/reader"
	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/ingest/bibliography"
	"hatchlore/ingest/reference"
)

// match gives the records in a file of references to the papers that they are
// about: the one with the same DOI, else the same title. Such a record is the
// keeper's own and outlives a new reading of the paper.
func (l *Library) match(ctx context.Context, f reader.Found) (Outcome, error) {
	out := Outcome{Source: f.Path}
	works, problems, err := reader.Records(f)
	if err != nil {
		out.State, out.Why = Refused, fmt.Sprintf("%s %v", f.Path, err)
		return out, nil
	}
	papers, err := l.records(ctx)
	if err != nil {
		return out, err
	}
	matched := 0
	for _, w := range works {
		key, ok := papers.of(w)
		if !ok {
			continue
		}
		matched++
		if err := l.mendRecord(ctx, key, w.Record); err != nil {
			return out, err
		}
	}
	if err := l.reindex(ctx); err != nil {
		return out, err
	}
	out.State = Matched
	belong := "belong"
	if matched == 1 {
		belong = "belongs"
	}
	out.Why = fmt.Sprintf("%d of %s %s to papers of the library", matched, trial.Plural(len(works), "record"), belong)
	switch n := len(problems); n {
	case 0:
	case 1:
		out.Why += fmt.Sprintf("; 1 problem, in %s", problems[0])
	default:
		out.Why += fmt.Sprintf("; %d problems, the first in %s", n, problems[0])
	}
	return out, nil
}

// shelf finds papers by what a record says of them.
type shelf struct{ byDOI, byTitle map[string]string }

func (l *Library) records(ctx context.Context) (shelf, error) {
	s := shelf{map[string]string{}, map[string]string{}}
	for p, err := range l.store.Papers(ctx) {
		if err != nil {
			return s, err
		}
		if p.DOI != "" {
			s.byDOI[strings.ToLower(p.DOI)] = p.Paper
		}
		if t := plain(p.Title); t != "" {
			s.byTitle[t] = p.Paper
		}
	}
	return s, nil
}

func (s shelf) of(w bibliography.Work) (key string, ok bool) {
	if key, ok = s.byDOI[strings.ToLower(w.DOI)]; ok && w.DOI != "" {
		return key, true
	}
	key, ok = s.byTitle[plain(w.Title)]
	return key, ok && w.Title != ""
}

// plain is a title by its letters and digits alone: typesetters differ in the
// rest.
func plain(title string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			return -1
		}
		return unicode.ToLower(r)
	}, title)
}

// mendRecord puts what a record says in place of what was read; what it does
// not say stays.
func (l *Library) mendRecord(ctx context.Context, key string, r reference.Record) error {
	head, err := l.store.Head(ctx, key)
	if err != nil {
		return err
	}
	mended := head.Record()
	for _, x := range []struct {
		into *string
		from string
	}{{&mended.Title, r.Title}, {&mended.Journal, r.Journal}, {&mended.Volume, r.Volume}, {&mended.Extent, r.Pages}, {&mended.DOI, r.DOI}} {
		if x.from != "" {
			*x.into = x.from
		}
	}
	if r.Year > 0 {
		mended.Year = r.Year
	}
	if len(r.Authors) > 0 {
		mended.Authors = nil
		for _, a := range r.Authors {
			mended.Authors = append(mended.Authors, familyFirst(a))
		}
	}
	return l.store.Mend(ctx, key, mended)
}

// reindex brings the index in step after records changed: it knows titles and
// years.
func (l *Library) reindex(ctx context.Context) error {
	if l.index == nil {
		_, err := l.openToWrite(ctx, false)
		return err
	}
	_, err := l.catchUp(ctx)
	return err
}

// Mend puts the keeper's record in place of a paper's, for good.
func (l *Library) Mend(ctx context.Context, key string, r store.Record) error {
	if err := l.store.Mend(ctx, key, r); err != nil {
		return err
	}
	if err := l.reindex(ctx); err != nil {
		return err
	}
	return l.closeIndex()
}

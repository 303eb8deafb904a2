package rule

import (
	"slices"
	"testing"

	"hatchlore/corpus-sample/surroundings"
	"hatchlore/evidence"
	"hatchlore/evidence/rule/lexicon"
)

// TestFolds reads each fifth of the labelled passages without the cue phrases
// and rules that no other fifth has a use for. All of them were seen when the
// rules were written, so that plain agreement is memory; this takes away what
// a fifth alone taught. It still flatters: a phrase that two fifths share
// stays, and the form of a rule owes something to every passage.
func TestFolds(t *testing.T) {
	const folds = 5
	ps := surroundings.Lines[passage](t, surroundings.Shared(t, "passages-dev.jsonl"))
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	uses := usesOf(set, ps, folds)
	got := map[string]tally{}
	for k := range folds {
		thin := uses.without(set, k)
		for i, p := range ps {
			if i%folds != k {
				continue
			}
			title := p.Title
			if title == "" {
				title = p.Source
			}
			var claims []evidence.Claim
			for _, c := range thin.Match(document(title, p.Text)) {
				if !c.Implied {
					claims = append(claims, c)
				}
			}
			for _, l := range levels {
				_, n := pair(p.Claims, claims, l.agrees)
				a := got[l.name]
				got[l.name] = tally{a.right + n, a.gold + len(p.Claims), a.claimed + len(claims)}
			}
		}
	}
	for _, l := range levels {
		t.Logf("%-8s %s", l.name, got[l.name])
	}
	if got["value"].f1() < 0.70 {
		t.Errorf("value F1 %.3f is under .70", got["value"].f1())
	}
}

// uses tells in which folds each phrase and rule was of use.
type uses struct {
	phrases map[*lexicon.Lexicon]map[int]map[int]bool // phrase → folds
	rules   map[string]map[int]bool
}

func usesOf(set *Set, ps []passage, folds int) uses {
	u := uses{phrases: map[*lexicon.Lexicon]map[int]map[int]bool{}, rules: map[string]map[int]bool{}}
	for _, lex := range set.words.Lexicons {
		u.phrases[lex] = map[int]map[int]bool{}
	}
	for i, p := range ps {
		if lex := set.words.Lexicons[p.Lang]; lex != nil {
			ws := lexicon.Words(p.Title+"\n"+p.Text, 0, len(p.Title)+1+len(p.Text))
			for _, id := range lex.Occurring(ws) {
				note(u.phrases[lex], id, i%folds)
			}
		}
		_, fired := set.run(document(p.Title, p.Text))
		for _, f := range fired {
			note(u.rules, f.rule, i%folds)
		}
	}
	return u
}

func note[K comparable](m map[K]map[int]bool, k K, fold int) {
	if m[k] == nil {
		m[k] = map[int]bool{}
	}
	m[k][fold] = true
}

// without returns the set less what only the fold had a use for.
func (u uses) without(set *Set, fold int) *Set {
	only := func(in map[int]bool) bool { return len(in) == 1 && in[fold] }
	thin, words := *set, *set.words
	thin.words = &words
	words.Lexicons = map[string]*lexicon.Lexicon{}
	for lang, lex := range set.words.Lexicons {
		words.Lexicons[lang] = lex.Less(func(id int) bool { return only(u.phrases[lex][id]) })
	}
	thin.rules = slices.DeleteFunc(slices.Clone(set.rules), func(c *compiled) bool { return only(u.rules[c.ID]) })
	thin.index()
	return &thin
}

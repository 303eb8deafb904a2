package reference

import "testing"

// All titles are invented.
func TestCompareTitles(t *testing.T) {
	const eggs = "Cold and drought in the eggs of Testus inventus"
	for _, c := range []struct {
		a, b string
		want Likeness
	}{
		{eggs, eggs, Same},
		{eggs, "COLD AND DROUGHT IN THE EGGS OF TESTUS INVENTUS.", Same},
		{eggs, "Cold and drought in the eggs of Tes-tus in\u00adventus", Same}, // of a line's end
		{"Blätter über Schlupf aus Dauereiern", "Blaetter ueber Schlupf aus Dauereiern", Same},
		{"Eﬀects of cold on ﬁne eggs", "Effects of cold on fine eggs", Same},
		{eggs, eggs + ": two moors", Alike},
		{eggs + " – from two moors", eggs, Alike},
		{"Salt, " + eggs, eggs, Near},
		{eggs, "Cold and drought in the egg of Testus inventus", Alike}, // one misprint
		{eggs, "Salt and drought in the eggs of Testus inventus", Near},
		{"Studies on the eggs of pools. I", "Studies on the eggs of pools. II", Near},
		{"Studies on the eggs of pools", "Studies on the eggs of pools. II", Near},
		{"Report on the pools of 1987", "Report on the pools of 1988", Near},
		{eggs, "Vertebrate muscle under prolonged exercise", Unlike},
		{eggs, "", Open},
		{"Eggs", "Mud", Open},
	} {
		if got := CompareTitles(c.a, c.b); got != c.want {
			t.Errorf("%q and %q: %d, want %d", c.a, c.b, got, c.want)
		}
		if got := CompareTitles(c.b, c.a); got != c.want {
			t.Errorf("%q and %q the other way: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func TestCompareAuthors(t *testing.T) {
	hallow, birk, moor := Author{"J.", "Hallow"}, Author{"A.", "Birk"}, Author{"P.", "van der Moor"}
	others := Author{}
	for _, c := range []struct {
		name string
		a, b []Author
		want Likeness
	}{
		{"the same", []Author{hallow, birk}, []Author{{"Joanna", "HÄLLOW"}, {"", "Birk"}}, Same},
		{"particles", []Author{moor}, []Author{{"P.", "Moor"}}, Same},
		{"another initial", []Author{hallow}, []Author{{"K.", "Hallow"}}, Unlike},
		{"one more", []Author{hallow}, []Author{hallow, birk}, Alike},
		{"et al. of three", []Author{hallow, others}, []Author{hallow, birk, moor}, Same},
		{"et al. of two", []Author{hallow, others}, []Author{hallow, birk}, Alike},
		{"another second", []Author{hallow, birk}, []Author{hallow, moor}, Unlike},
		{"nobody", nil, []Author{hallow}, Open},
	} {
		if got := CompareAuthors(c.a, c.b); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
		if got := CompareAuthors(c.b, c.a); got != c.want {
			t.Errorf("%s the other way: %d, want %d", c.name, got, c.want)
		}
	}
}

func FuzzCompareTitles(f *testing.F) {
	f.Add("Cold eggs of pools", "Warm eggs of pools")
	f.Add("P\ufffdols II", "")
	f.Fuzz(func(t *testing.T, a, b string) {
		if x, y := CompareTitles(a, b), CompareTitles(b, a); x != y {
			t.Errorf("%q and %q: %d, the other way %d", a, b, x, y)
		}
		if got := CompareTitles(a, a); got != Same && got != Open {
			t.Errorf("%q and itself: %d", a, got)
		}
	})
}

package name

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// brief prints what a test wants to see of a name.
func brief(n Name) string {
	s := string(n.Rank) + ":" + n.Full()
	if n.Rank == Group {
		s = "group:" + n.Genus
	}
	if n.Author != "" {
		s += " {" + n.Author + "}"
	}
	return s
}

func briefs(names []Name) []string {
	out := []string{}
	for _, n := range names {
		out = append(out, brief(n))
	}
	return out
}

func TestFindListed(t *testing.T) {
	for _, tt := range []struct {
		text string
		want []string
	}{
		{"Eggs of Branchinecta lindahli Packard, 1883 hatched.", []string{"species:Branchinecta lindahli {Packard, 1883}"}},
		{"Triops longicaudatus (LeConte, 1846) and Lepidurus apus (L.) hatched.", []string{"species:Triops longicaudatus {LeConte, 1846}", "species:Lepidurus apus {L.}"}},
		{"Triops cancriformis (Bosc) needs light", []string{"species:Triops cancriformis {Bosc}"}},
		{"In Triops cancriformis (Takahashi, 1995) the eggs dry", []string{"species:Triops cancriformis"}},
		{"in Artemia salina Smith (1990) found", []string{"species:Artemia salina"}},
		{"Artemia (Artemia) salina hatched", []string{"species:Artemia salina"}},
		{"Branchinecta cf. lindahli and Branchinecta sp. aff. mackini", []string{"species:Branchinecta cf. lindahli", "species:Branchinecta aff. mackini"}},
		{"Cyzicus sp. and Eulimnadia spp. and Lynceus", []string{"genus:Cyzicus", "genus:Eulimnadia", "genus:Lynceus"}},
		{"Triops longicaudatus longicaudatus against T. l. intermedius", []string{"species:Triops longicaudatus longicaudatus", "species:Triops longicaudatus intermedius"}},
		{"Triops Longicaudatus", []string{"species:Triops longicaudatus"}},
		{"HATCHING OF ARTEMIA SALINA IN THE DARK", []string{"species:Artemia salina"}},
		{"Artemia cysts hatch; Daphnia eggs were dried and Triops aus der Packung", []string{"genus:Artemia", "genus:Daphnia", "genus:Triops"}},
		{"The Anostraca, Notostraca and Artemiidae, and the Vernocephalidae", []string{"group:Anostraca", "group:Notostraca", "group:Artemiidae", "group:Vernocephalidae"}},
		{"fairy shrimp and cladocerans hatch", []string{"group:Anostraca", "group:Cladocera"}},
		{"most nothos, all artémias and the triops", []string{"genus:Nothobranchius", "genus:Artemia", "genus:Triops"}},
		{"Die Artemianauplien und Triops-Eier und Triopseier", []string{"genus:Artemia", "genus:Triops", "genus:Triops"}},
		{"artemia salina hatches", []string{"species:Artemia salina"}},
		{"cypris larvae of barnacles; Cypris pubera", []string{"species:Cypris pubera"}},
		{"The eggs of N. rachovii (Nothobranchius rachovii), and those of eggersi, hatch", []string{"species:Nothobranchius rachovii", "species:Nothobranchius rachovii", "species:Nothobranchius eggersi"}},
		{"eggs of Ae. aegypti and An. gambiae", []string{"species:Aedes aegypti", "species:Anopheles gambiae"}},
		{"Branchinecta\nlindahli and *Triops* *newberryi*", []string{"species:Branchinecta lindahli", "species:Triops newberryi"}},
		{"Triops\n\nlongicaudatus", []string{"genus:Triops"}},
		{"Siphonophanes wagnerei schlüpft bei 5 °C, und Artemia bei 20 °C", []string{"species:Siphonophanes wagnerei", "genus:Artemia"}},
		{"les œufs de Hexarthra lacustris de la mare, et les kystes de Artemia plus gros", []string{"species:Hexarthra lacustris", "genus:Artemia"}},
		{"ovos de Diaphanosoma lacinosum foram postos na água", []string{"species:Diaphanosoma lacinosum"}},
	} {
		if d := cmp.Diff(tt.want, briefs(Find(tt.text))); d != "" {
			t.Errorf("%s\n%s", tt.text, d)
		}
	}
}

// The species of this test do not exist.
func TestFindInvented(t *testing.T) {
	for _, tt := range []struct {
		title, text string
		want        []string // in the text
	}{
		{"Hatching of Vernocephala umbrosa", "Eggs of Vernocephala umbrosa were dried. In V. umbrosa none hatched.",
			[]string{"species:Vernocephala umbrosa", "species:Vernocephala umbrosa"}},
		{"", "The fairy shrimp Pallidocysta frigida lives in pools. Eggs of Pallidocysta hatched at 5 °C.",
			[]string{"group:Anostraca", "species:Pallidocysta frigida", "genus:Pallidocysta"}},
		{"", "Nivabranchus borealis Holt, 1931 hatched late, N. borealis from the north later still.",
			[]string{"species:Nivabranchus borealis {Holt, 1931}", "species:Nivabranchus borealis"}},
		{"", "We wetted eggs of Umbralimnadia tersa. Half of the eggs of Umbralimnadia tersa hatched.",
			[]string{"species:Umbralimnadia tersa", "species:Umbralimnadia tersa"}},
		{"Trockenruhe bei Vernocephala umbrosa", "Die Eier von Vernocephala umbrosa wurden getrocknet. Eier von V. umbrosa schlüpften nicht.",
			[]string{"species:Vernocephala umbrosa", "species:Vernocephala umbrosa"}},
		{"L'éclosion des œufs de Vernocephala umbrosa", "Les œufs de Vernocephala umbrosa ont été séchés; ceux de V. umbrosa du sud ont éclos.",
			[]string{"species:Vernocephala umbrosa", "species:Vernocephala umbrosa"}},
		{"", "Los huevos de Vernocephala umbrosa se secaron. V. umbrosa eclosiona a 12 °C.",
			[]string{"species:Vernocephala umbrosa", "species:Vernocephala umbrosa"}},
		{"", "Two species, Vernocephala umbrosa and V. nitida, share pools. Vernocephala umbrosa hatches first, V. nitida next, then nitida from the hills.",
			[]string{"species:Vernocephala umbrosa", "species:Vernocephala nitida", "species:Vernocephala umbrosa", "species:Vernocephala nitida"}},
		{"Vernalippus obscura", "Vernalippus obscura hatches at 10 °C.", []string{"species:Vernalippus obscura"}},
		{"", "Most eggs hatched late in Vernalippus maculata.", []string{"species:Vernalippus maculata"}},
		{"", "Cysts of Glaciotriops sp. were frozen; Glaciotriops hatched.", []string{"genus:Glaciotriops", "genus:Glaciotriops"}},
		{"", "Vernocephala umbrosa (see V. umbrosa) and Verticaria umbrosa (Lind, 1902): of V. umbrosa we speak.",
			[]string{"species:Vernocephala umbrosa", "species:Vernocephala umbrosa", "species:Verticaria umbrosa {Lind, 1902}", "species:Verticaria umbrosa"}},
	} {
		s := NewScope(tt.title, tt.text)
		if d := cmp.Diff(tt.want, briefs(s.Find(tt.text))); d != "" {
			t.Errorf("%s\n%s", tt.text, d)
		}
	}
}

func TestFindNothing(t *testing.T) {
	for _, text := range []string{
		"Conservation physiology is young. The eggs hatched. Table shows the data. Journal of plankton research. San Diego is far.",
		"Eggs were kept in water. Eggs were dried. Eggs hatched. Water status was good. Plates A. and B. are shown. See Fig. a and No. a.",
		"Die Eier wurden getrocknet. Eier schlüpfen aus. Eier aus dem Becken. Wasser bis oben. Nach etwa zwei Tagen.",
		"Les œufs mis à sec ont éclos. Les résultats obtenus ici. Eau plus froide. Cette température a été suivie. Des œufs mis au froid.",
		"La temperatura media fue alta. Temperatura media de 20 grados. Agua salada y fría. Los huevos secos. Agua salada otra vez.",
		"A temperatura média da água. Água doce ou salgada. Os ovos secos foram hidratados. Temperatura baixa. Temperatura baixa.",
		"Le uova asciutte. Temperatura minima e massima. Acqua salata. Gli embrioni vivi. Temperatura minima ancora.",
		"Statistical Analysis. Materials And Methods. MATERIALS AND METHODS. RESULTS AND DATA. Santa Marta, Baja California, Buenos Aires.",
		"J. Smith and A. delta; B. data, U.S. data. E. Petrov, Dr. Alba, St. Petersburg.",
		"Petri dishes, Great Salt Lake, Rio Negro, New Mexico, Puerto Rico, Alpha plus, Beta minus. Costa Rica is warm.",
	} {
		if got := Find(text); len(got) > 0 {
			t.Errorf("%s\nfound %v", text, briefs(got))
		}
	}
}

func TestScopeAcrossPages(t *testing.T) {
	s := NewScope("Diapause in two shrimps", "Branchinecta lindahli and Boeckella poppei live there.", "Of B. lindahli 40 % hatched, of B. poppei none.")
	got := briefs(s.Find("Of B. lindahli 40 % hatched, of B. poppei none."))
	if d := cmp.Diff([]string{"species:Branchinecta lindahli", "species:Boeckella poppei"}, got); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]string{"Boeckella", "Branchinecta"}, s.Genera()); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]string{"species:Triops newberryi"}, briefs(NewScope("Triops newberryi at night", "").Title())); d != "" {
		t.Error(d)
	}
}

func FuzzFind(f *testing.F) {
	for _, s := range []string{"", "Triops longicaudatus (LeConte, 1846)", "T. l. longicaudatus", "Artemia (Artemia) sp. cf. salina", "É. umbrosa", "Artemianauplien \xff", "TRIOPS NEWBERRYI\n\nx", "İArtemiazucht"} {
		f.Add(s, s)
	}
	f.Fuzz(func(t *testing.T, title, text string) {
		end := 0
		for _, n := range NewScope(title, text).Find(text) {
			if n.Start < end || n.End <= n.Start || n.End > len(text) || n.AuthorEnd < n.End || n.AuthorEnd > len(text) {
				t.Fatalf("%+v is out of order or bounds after %d", n, end)
			}
			if n.Printed != text[n.Start:n.End] || n.Genus == "" || n.Rank == Species && n.Epithet == "" {
				t.Fatalf("%+v does not fit %q", n, text)
			}
			end = n.End
		}
	})
}

func BenchmarkFind(b *testing.B) {
	page := strings.Repeat("Eggs of Branchinecta lindahli were kept at 5 °C for 30 days; those of B. mackini hatched in the dark. ", 300)
	b.SetBytes(int64(len(page)))
	for b.Loop() {
		NewScope("", page).Find(page)
	}
}

package rule

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"hatchlore/corpus-sample/surroundings"
	"hatchlore/evidence"
	"hatchlore/ingest"
)

// TestMatch reads texts in which grammar, not words, decides.
func TestMatch(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, title, text, want string
	}{
		{"a condition taken out", "Triops", "Eggs of Triops cancriformis hatched at 10 but not at 20 °C.",
			"incubation-temperature favours 10 Triops cancriformis; incubation-temperature prevents 20 Triops cancriformis"},
		{"respectively over species", "Three shrimps", "Eggs of Triops cancriformis and Lepidurus apus hatched at 20 and 8 °C, respectively.",
			"incubation-temperature favours 20 Triops cancriformis; incubation-temperature favours 8 Lepidurus apus"},
		{"the former and the latter", "Pools", "Triops cancriformis and Lepidurus apus share the ponds. Eggs of the former hatch at 20 °C, those of the latter at 8 °C.",
			"incubation-temperature favours 20 Triops cancriformis; incubation-temperature favours 8 Lepidurus apus"},
		{"a bystander", "Eggs", "Triops cancriformis lives beside Lepidurus apus. Its eggs hatch at 20 °C.",
			"incubation-temperature favours 20 Triops cancriformis"},
		{"levels and the winner", "Triops cancriformis", "Eggs were incubated at 10, 20 and 30 °C. Hatching was best at 20 °C, and none hatched at 30 °C.",
			"incubation-temperature reported 10 Triops cancriformis; incubation-temperature favours 20 Triops cancriformis; incubation-temperature prevents 30 Triops cancriformis"},
		{"adults and eggs in one sentence", "Triops cancriformis", "Adults live at 30 °C, whereas the eggs hatch at 20 °C.",
			"incubation-temperature favours 20 Triops cancriformis"},
		{"one condition, two animals", "Efípios", "A dessecação por 15 dias favoreceu a eclosão em Moina dumonti e não teve efeito em Macrothrix mira.",
			"drying favours 15 Moina dumonti; drying indifferent 15 Macrothrix mira"},
		{"a condition told of all", "Eggs", "Eggs of Triops cancriformis hatched after 2 days, those of Lepidurus apus after 9 days. The water had 12 °C.",
			"time-to-hatch favours 2 Triops cancriformis; time-to-hatch favours 9 Lepidurus apus; incubation-temperature favours 12 Triops cancriformis; incubation-temperature favours 12 Lepidurus apus"},
		{"neither of the two", "Huevos", "En Triops cancriformis la congelación a -5 °C redujo la eclosión; la sequía, en cambio, la favoreció. En Lepidurus apus ninguna de las dos hizo falta.",
			"freezing prevents -5 Triops cancriformis; drying favours helpful Triops cancriformis; freezing indifferent not-required Lepidurus apus; drying indifferent not-required Lepidurus apus"},
		{"the stronger two of a list", "Triops cancriformis", "When NaCl was added to 0.5, 1, 2 and 4 g/L, eggs hatched at the two weaker doses but not at the two stronger ones.",
			"salinity favours 0.5 Triops cancriformis; salinity favours 1 Triops cancriformis; salinity prevents 2 Triops cancriformis; salinity prevents 4 Triops cancriformis"},
		{"the middle member of three", "Eggs", "Eggs of Triops cancriformis hatched at 15 °C in 9 days, at 20 °C in 5 days, at 35 °C none.",
			"incubation-temperature favours 15 Triops cancriformis; time-to-hatch favours 9 Triops cancriformis; incubation-temperature favours 20 Triops cancriformis; time-to-hatch favours 5 Triops cancriformis; incubation-temperature prevents 35 Triops cancriformis"},
		{"oxygen named a sentence before", "Eggs", "Eggs of Triops cancriformis in hypoxic water (0.9 mg/L) did not hatch. In water with 5.5 mg/L they hatched.",
			"oxygen prevents 0.9 Triops cancriformis; oxygen favours 5.5 Triops cancriformis"},
		{"several day lengths", "Eggs", "Photoperiods of 8, 12 and 16 h of light let the eggs of Triops cancriformis hatch.",
			"light favours 8:16 Triops cancriformis; light favours 12:12 Triops cancriformis; light favours 16:8 Triops cancriformis"},
		{"levels set between commas", "Triops", "La oscuridad continua disminuyó la eclosión de Triops, y el pH, ensayado a 6 y 8, no influyó.",
			"light prevents dark Triops; ph indifferent 6 Triops; ph indifferent 8 Triops"},
		{"behind a dash and a colon", "Triops cancriformis", "Schlupf der Eier: 8 °C – 45 %; 16 °C – kein Schlupf.",
			"incubation-temperature favours 8 Triops cancriformis; hatching-fraction favours 45 Triops cancriformis; incubation-temperature prevents 16 Triops cancriformis"},
		{"until it was raised", "Triops", "Eggs of Triops cancriformis in water of 10 °C did not hatch until it was raised to 17 °C.",
			"incubation-temperature prevents 10 Triops cancriformis; incubation-temperature favours 17 Triops cancriformis"},
		{"one outcome against another", "Triops", "None of 200 eggs of Triops cancriformis hatched at 9 °C, against 64 % at 20 °C.",
			"hatching-fraction prevents 0 Triops cancriformis implied; incubation-temperature prevents 9 Triops cancriformis; hatching-fraction favours 64 Triops cancriformis; incubation-temperature favours 20 Triops cancriformis"},
		{"a denial of its own", "Triops", "Hatching of Triops cancriformis was best at 25 °C and was not seen at 15 °C.",
			"incubation-temperature favours 25 Triops cancriformis; incubation-temperature prevents 15 Triops cancriformis"},
		{"only so many", "Triops", "Of the eggs of Triops cancriformis that had lain dry for 30 days only 4 % hatched after wetting.",
			"drying favours 30 Triops cancriformis; hatching-fraction favours 4 Triops cancriformis"},
		{"a need with words of its own", "Triops", "Light was necessary for the eggs of Triops cancriformis. In the dark none hatched.",
			"light favours light-required Triops cancriformis; light prevents dark Triops cancriformis"},
		{"a need told by the dark alone", "Triops", "In the dark no eggs of Triops cancriformis hatched.",
			"light favours light-required Triops cancriformis"},
		{"the condition of an idle agent", "Triops", "Eggs of Triops cancriformis hatched at 12 °C. Nitrogen, given at 4 °C, did nothing.",
			"incubation-temperature favours 12 Triops cancriformis; incubation-temperature reported 4 Triops cancriformis; trigger indifferent low-oxygen Triops cancriformis"},
		{"without a word that hides a number", "Triops", "Eggs of Triops cancriformis hatched at 20 °C, without any refrigerator.",
			"incubation-temperature favours 20 Triops cancriformis"},
		{"what emerged and then died", "Triops", "Hatching of Triops cancriformis. At 25 °C the embryos emerged and died in the membrane.",
			"incubation-temperature prevents 25 Triops cancriformis"},
		{"lots by their labels", "Triops", "Groups A, B and C of eggs of Triops cancriformis were stored dry for 30, 60 and 90 days. A hatched to 12 %, B to 48 %, whereas C gave none.",
			"storage-length favours 30 Triops cancriformis; storage-length favours 60 Triops cancriformis; storage-length prevents 90 Triops cancriformis; hatching-fraction favours 12 Triops cancriformis; hatching-fraction favours 48 Triops cancriformis"},
		{"labels that name no lot", "Triops", "Eggs of Triops cancriformis in three dishes were incubated at 10, 15 and 20 °C. A few hatched by plan B.",
			"incubation-temperature reported 10 Triops cancriformis; incubation-temperature reported 15 Triops cancriformis; incubation-temperature reported 20 Triops cancriformis"},
		{"told as method", "Triops", "Sediment was chilled at 4 °C for 60 days before incubation. At 15 °C the eggs of Triops cancriformis hatched.",
			"stratification-temperature reported 4 Triops cancriformis; stratification-length reported 60 Triops cancriformis; incubation-temperature favours 15 Triops cancriformis"},
		{"neither helped nor hastened", "Triops", "A month at 3 °C neither hastened nor increased the hatch of Triops cancriformis.",
			"stratification-length indifferent 30 Triops cancriformis; stratification-temperature indifferent 3 Triops cancriformis"},
		{"hardly any, yet some", "Triops", "In aerated water of 8 mg/L of oxygen barely 4 % of the eggs of Triops cancriformis hatched.",
			"oxygen favours 8 Triops cancriformis; hatching-fraction favours 4 Triops cancriformis"},
		{"a relative clause in between", "Triops", "A temperature of 10 °C, which others found optimal (Lind 1990), prevented hatching of Triops cancriformis altogether.",
			"incubation-temperature prevents 10 Triops cancriformis"},
		{"young by a pronoun", "Triops", "Rain water poured over the sediment brought out nauplii of Triops cancriformis. They were not seen in water of 3 g/L.",
			"salinity prevents 3 Triops cancriformis"},
		{"only two after all", "Triops", "After 10 days in the refrigerator no egg of Triops cancriformis hatched, and after 20 days only two.",
			"stratification-length prevents 10 Triops cancriformis; stratification-length favours 20 Triops cancriformis; stratification-temperature favours 4 Triops cancriformis implied"},
		{"from one condition to another", "Triops", "When brine of 120 g/L was diluted to 30 g/L the eggs of Triops cancriformis hatched.",
			"salinity reported 120 Triops cancriformis; salinity favours 30 Triops cancriformis"},
		{"a gas as a formula", "Triops", "A stream of CO₂ triggered hatching of Triops cancriformis.", "trigger favours carbon-dioxide Triops cancriformis"},
		{"unless", "Lynceus brachyurus", "The eggs will not hatch unless they are dried.", "drying favours required Lynceus brachyurus"},
		{"only after", "Lynceus brachyurus", "The eggs hatch only after drying.", "drying favours required Lynceus brachyurus"},
		{"a word that hides a number", "Triops", "The eggs were refrigerated and then hatched.", "stratification-temperature favours 4 Triops implied"},
		{"a question", "Triops", "Must the eggs be dried before they hatch?", ""},
		{"another language inside a paper", "Triops cancriformis", "Die Eier von Triops cancriformis schlüpfen bei einer Temperatur von 20 °C nach zwei bis drei Tagen.",
			"incubation-temperature favours 20 Triops cancriformis; time-to-hatch favours 2..3 Triops cancriformis"},
		{"a floor by a denied verb", "Triops cancriformis", "The drying of the eggs should not be shorter than two months.",
			"drying favours 60.. Triops cancriformis"},
		{"a floor, de", "Triops cancriformis", "Die Trockenzeit der Eier sollte nicht kürzer sein als zwei Monate, damit sie schlüpfen.",
			"drying favours 60.. Triops cancriformis"},
		{"a ceiling by a denied verb", "Triops cancriformis", "Hatch the eggs at 10 °C and do not exceed 15 °C.",
			"incubation-temperature favours 10 Triops cancriformis; incubation-temperature favours ..15 Triops cancriformis"},
		{"a ceiling, de", "Triops cancriformis", "Die Wassertemperatur sollte beim Schlüpfen der Eier 15 °C nicht überschreiten.",
			"incubation-temperature favours ..15 Triops cancriformis"},
		{"a ceiling, fr", "Triops cancriformis", "Pour faire éclore les œufs, ne pas dépasser 15 °C.",
			"incubation-temperature favours ..15 Triops cancriformis"},
		{"a ceiling, es", "Triops cancriformis", "Para que eclosionen los huevos no se debe superar los 15 °C.",
			"incubation-temperature favours ..15 Triops cancriformis"},
		{"a denial that turns the bound", "Triops cancriformis", "Eggs hatched at 10 but not below 8 °C.",
			"incubation-temperature favours 10 Triops cancriformis; incubation-temperature favours 8.. Triops cancriformis"},
		{"a denial beside a bound", "Triops cancriformis", "Eggs hatched at 10 °C but not at more than 20 °C.",
			"incubation-temperature favours 10 Triops cancriformis; incubation-temperature prevents 20.. Triops cancriformis"},
		{"did not lower", "Triops cancriformis", "Deep-freezing of dry eggs at −20 °C did not lower their hatching (69 %).",
			"freezing indifferent -20 Triops cancriformis; hatching-fraction favours 69 Triops cancriformis"},
		{"did not lower, fr", "Triops cancriformis", "La congélation à −20 °C n'a pas abaissé l'éclosion des œufs.",
			"freezing indifferent -20 Triops cancriformis"},
		{"did not lower, es", "Triops cancriformis", "La congelación a −20 °C no rebajó la eclosión de los huevos.",
			"freezing indifferent -20 Triops cancriformis"},
		{"did not lower, it", "Triops cancriformis", "Il congelamento a −20 °C non ha abbassato la schiusa delle uova.",
			"freezing indifferent -20 Triops cancriformis"},
		{"did not lower, pt", "Triops cancriformis", "O congelamento a −20 °C não baixou a eclosão dos ovos.",
			"freezing indifferent -20 Triops cancriformis"},
		{"no more than the others, fr", "Triops cancriformis", "Les œufs séchés pendant deux mois n'ont pas éclos davantage (67 %) que ceux restés humides.",
			"drying indifferent 60 Triops cancriformis; hatching-fraction favours 67 Triops cancriformis"},
		{"neither kind, for want of something else", "Triops cancriformis", "Neither dried nor undried eggs hatched when the cold was left out.",
			""},
		{"neither kind, de", "Triops cancriformis", "Weder getrocknete noch ungetrocknete Eier schlüpften, wenn die Kälte weggelassen wurde.",
			""},
		{"a cold that was skipped", "Triops cancriformis", "Eggs that skipped the fridge hatched just the same.",
			""},
		{"a cold that was left out", "Triops cancriformis", "When the fridge was left out, eggs hatched just the same.",
			""},
		{"a cold that was skipped, de", "Triops cancriformis", "Eier, die den Kühlschrank übersprungen hatten, schlüpften ebenso.",
			""},
		{"what nobody tried", "Triops cancriformis", "No one has hatched eggs older than nine years.",
			""},
		{"what is not claimed", "Triops cancriformis", "We do not suggest that drying is without effect on the eggs.",
			""},
		{"dried, then chilled, then flooded", "Triops cancriformis", "Eggs, dried for 12 weeks and then held moist at 3 °C for 6 weeks, were flooded at 7 °C and hatched.",
			"drying favours 84 Triops cancriformis; stratification-temperature favours 3 Triops cancriformis; stratification-length favours 42 Triops cancriformis; incubation-temperature favours 7 Triops cancriformis"},
		{"when it was counted", "Triops cancriformis", "Counted after three weeks, 66 % of the eggs had hatched.",
			"hatching-fraction favours 66 Triops cancriformis"},
		{"hatched after all", "Triops cancriformis", "Eggs that had failed at 18 °C hatched at 61 % at 6 °C.",
			"incubation-temperature prevents 18 Triops cancriformis; hatching-fraction favours 61 Triops cancriformis; incubation-temperature favours 6 Triops cancriformis"},
		{"hatched after all, by the same word", "Triops cancriformis", "Eggs which did not hatch at 18 °C hatched at 6 °C.",
			"incubation-temperature prevents 18 Triops cancriformis; incubation-temperature favours 6 Triops cancriformis"},
		{"hatched after all, fr", "Triops cancriformis", "Les œufs qui n'avaient pas éclos à 18 °C ont éclos à 6 °C.",
			"incubation-temperature prevents 18 Triops cancriformis; incubation-temperature favours 6 Triops cancriformis"},
		{"hatched after all, es", "Triops cancriformis", "Los huevos que no eclosionaron a 18 °C eclosionaron a 6 °C.",
			"incubation-temperature prevents 18 Triops cancriformis; incubation-temperature favours 6 Triops cancriformis"},
		{"a fridge with its number", "Triops cancriformis", "The eggs were kept in the refrigerator (3 °C) for 8 weeks and then hatched.",
			"stratification-temperature favours 3 Triops cancriformis; stratification-length favours 56 Triops cancriformis"},
		{"a fridge with its number, de", "Triops cancriformis", "Die Eier lagen im Kühlschrank bei 3 °C und schlüpften danach.",
			"stratification-temperature favours 3 Triops cancriformis"},
		{"the temperature of a conductivity", "Triops cancriformis", "Eggs hatched in well water mixed with distilled water, giving 140 µS/cm at 25 °C.",
			"conductivity favours 140 Triops cancriformis"},
		{"counts behind times", "Triops cancriformis", "Ninety days of cold brought 131 of 160 eggs to hatch, sixty days 74 and thirty days 13.",
			"stratification-length favours 90 Triops cancriformis; hatching-fraction favours 81.88 Triops cancriformis implied; stratification-length favours 60 Triops cancriformis; stratification-length favours 30 Triops cancriformis"},
		{"all but one level", "Triops cancriformis", "Eggs hatched at all temperatures except 30 °C.",
			"incubation-temperature prevents 30 Triops cancriformis"},
		{"none but one level", "Triops cancriformis", "No eggs hatched except at 20 °C.",
			"incubation-temperature favours 20 Triops cancriformis"},
		{"failed to prevent", "Triops cancriformis", "Salinity of 2 g/L failed to prevent hatching.",
			"salinity indifferent 2 Triops cancriformis"},
		{"no longer, fr", "Triops cancriformis", "À 20 °C les œufs n'éclosent plus.",
			"incubation-temperature prevents 20 Triops cancriformis"},
		{"no obstacle", "Triops cancriformis", "Drying is no obstacle to hatching.",
			"drying indifferent not-required Triops cancriformis"},
		{"did not suffer", "Triops cancriformis", "Without light, hatching did not suffer.",
			"light indifferent dark Triops cancriformis"},
		{"what must not be", "Triops cancriformis", "The eggs need not be dried, but they must not be frozen.",
			"drying indifferent not-required Triops cancriformis"},
		{"what nobody has shown", "Triops cancriformis", "Nobody has shown that drying is required for hatching.",
			""},
		{"ponds, growth and maturity", "Triops", "The pond held 22 °C and 250 µS/cm. The animals matured within 14 days and grew to 30 mm.", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got []string
			for _, claim := range set.Match(document(c.title, c.text)) {
				v := interval(claim.Low, claim.High)
				if v == "-" {
					v = claim.Category
				}
				s := fmt.Sprintf("%s %s %s %s", claim.Factor, claim.Bearing, v, claim.Taxon)
				if claim.Implied {
					s += " implied"
				}
				got = append(got, s)
			}
			slices.Sort(got)
			want := strings.Split(c.want, "; ")
			slices.Sort(want)
			if s, w := strings.Join(got, "; "), strings.Join(want, "; "); s != w {
				t.Errorf("got  %s\nwant %s", s, w)
			}
		})
	}
}

func TestSecondhand(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ text, cited string }{
		{"Eggs hatch at 20 °C (Miller 1980).", "(Miller 1980)"},
		{"Miller et al. (1980) found that eggs hatch at 20 °C.", "Miller et al. (1980)"},
		{"Eggs hatch at 20 °C [4].", "[4]"},
		{"Eggs hatch at 20 °C (K. Lind, pers. comm.).", "(K. Lind, pers. comm.)"},
		{"Eggs hatch at 20 °C (Miller, loc. cit.).", "(Miller, loc. cit.)"},
		{"Miller y Lind (1980) saw that eggs hatch at 20 °C.", "Miller y Lind (1980)"},
		{"Miller et al. 1980 saw that eggs hatch at 20 °C.", "Miller et al. 1980"},
		{"Eggs hatch at 20 °C (Miller 1980a, b; see Lind & Birk (1990)).", "(Miller 1980a, b; see Lind & Birk (1990))"},
		{"Eggs of Triops cancriformis (Bosc, 1801) hatched at 20 °C.", "-"},
		{"We dried them (Miller 1980); our eggs hatched at 20 °C.", "-"},
		{"In the year (2017) eggs hatched at 20 °C.", "-"},
		// Of several citations the one that the value leans on.
		{"Miller (1980) held that eggs hatch at 10 °C, Lind (1990) that they hatch at 20 °C.", "Lind (1990)"},
		{"Eggs hatch at 10 °C (Miller 1980), and eggs hatch at 20 °C (Lind 1990).", "(Lind 1990)"},
		{"We chilled the eggs for 60 days, longer than the 30 days that are needed (Lind 1990). ", "(Lind 1990)"},
		{"The eggs hatched at 20 °C, higher than the optimum (Lind 1990).", "-"},
		{"Eggs hatch at 20 °C (Lind 1990), as others do (Miller 1980).", "(Lind 1990)"},
	} {
		claims := set.Match(document("Triops", c.text))
		if len(claims) == 0 {
			t.Errorf("no claim in %q", c.text)
			continue
		}
		got := claims[len(claims)-1]
		if want := c.cited != "-"; got.Secondhand != want || want && got.Cited != c.cited {
			t.Errorf("%q: second-hand %v by %q, want %q", c.text, got.Secondhand, got.Cited, c.cited)
		}
	}
}

// TestMarks checks that doubtful characters are used as the reader says.
func TestMarks(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	doc := document("Triops", "Eggs hatched at 20 °C.")
	at := strings.Index(doc.Pages[0].Text, "20")
	for _, c := range []struct {
		kind     ingest.MarkKind
		claims   int
		inferred bool
	}{{ingest.Inferred, 1, true}, {ingest.Untrusted, 0, false}, {ingest.Suspect, 1, true}} {
		doc.Pages[0].Marks = []ingest.Mark{{Start: at, End: at + 2, Kind: c.kind}}
		claims := set.Match(doc)
		if len(claims) != c.claims || len(claims) == 1 && claims[0].Inferred != c.inferred {
			t.Errorf("%s: %d claims, want %d; %+v", c.kind, len(claims), c.claims, claims)
		}
	}
	doc.Pages[0].Blocks[1].Section = ingest.SectionReferences
	doc.Pages[0].Marks = nil
	if claims := set.Match(doc); len(claims) != 0 {
		t.Errorf("a reference list gave %d claims", len(claims))
	}
}

// sound fails on a claim that its text does not carry.
func sound(t *testing.T, doc *ingest.Document, claims []evidence.Claim) {
	t.Helper()
	for _, c := range claims {
		if problems := c.Lint(); len(problems) > 0 {
			t.Fatalf("unsound claim %+v: %v", c, problems)
		}
		text := []rune(doc.Pages[c.Page-1].Text)
		if c.Start < 0 || c.End > len(text) || string(text[c.Start:c.End]) != c.Quote {
			t.Fatalf("the page does not hold %q at %d to %d", c.Quote, c.Start, c.End)
		}
		if !strings.Contains(doc.Pages[c.Page-1].Text, c.Printed) {
			t.Fatalf("the page does not print %q", c.Printed)
		}
	}
}

func TestDevIsSound(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range surroundings.Lines[passage](t, surroundings.Shared(t, "passages-dev.jsonl")) {
		doc := document(p.Title, p.Text)
		first := set.Match(doc)
		sound(t, doc, first)
		if again := set.Match(doc); fmt.Sprint(len(again)) != fmt.Sprint(len(first)) {
			t.Errorf("%s: read twice, %d and %d claims", p.ID, len(first), len(again))
		}
	}
}

func FuzzMatch(f *testing.F) {
	set, err := Load()
	if err != nil {
		f.Fatal(err)
	}
	f.Add("Triops", "Eggs of T. cancriformis hatched at 10, 15 and 20 °C (40 %), respectively; none did under 12:12.")
	f.Add("Zysten", "Die Eier müssen 4 Wochen trocken liegen – dann schlüpfen sie bei 20 °C.\n- pH 8\n\nÉclosion: 2 j")
	f.Fuzz(func(t *testing.T, title, text string) {
		if !utf8.ValidString(title) || !utf8.ValidString(text) {
			t.Skip("documents hold valid text")
		}
		title = strings.ReplaceAll(title, "\n", " ")
		doc := document(title, text)
		sound(t, doc, set.Match(doc))
	})
}

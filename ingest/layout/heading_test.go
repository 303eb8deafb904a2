package layout

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hatchlore/ingest/ingesttest"
	"hatchlore/ingest/pdf"
)

// face is a stretch of a line in one face, and the gap before it in sizes.
type face struct {
	text string
	how  string // "bold", "italic" or ""
	gap  float32
}

// setFaces sets a line of several faces.
func setFaces(s *ingesttest.Setter, x, y, size float32, faces ...face) {
	for _, f := range faces {
		if f.gap > 0 {
			x = s.At(x, y, size, " ") + (f.gap-0.5)*size
		}
		s.Bold, s.Flag = f.how == "bold", 0
		if f.how == "italic" {
			s.Flag = pdf.Italic
		}
		x = s.At(x, y, size, f.text)
	}
	s.Bold, s.Flag = false, 0
}

// TestRunInHeadings: a heading that opens a paragraph's first line stands apart
// from it, so that no sentence begins with a heading's words.
func TestRunInHeadings(t *testing.T) {
	const text = "None of the eggs that had been dried was seen to hatch at all."
	for _, c := range []struct {
		name  string
		first []face
		want  []string
	}{
		{"bold with a stop", []face{{"Drying of eggs.", "bold", 0}, {"They were dried over calcium chloride for a month.", "", 0.5}},
			[]string{"heading:Drying of eggs.", "paragraph:They were dried over calcium chloride for a month. " + text}},
		{"bold without a stop", []face{{"Drying of eggs", "bold", 0}, {"They were dried over calcium chloride for a month.", "", 0.5}},
			[]string{"heading:Drying of eggs", "paragraph:They were dried over calcium chloride for a month. " + text}},
		{"bold before a number", []face{{"Drying of eggs.", "bold", 0}, {"30 eggs were dried over calcium chloride for a month.", "", 0.5}},
			[]string{"heading:Drying of eggs.", "paragraph:30 eggs were dried over calcium chloride for a month. " + text}},
		{"bold inside a word", []face{{"Drying egg", "bold", 0}, {"shells were looked at under the lens, one by one.", "", 0}},
			[]string{"paragraph:Drying eggshells were looked at under the lens, one by one. " + text}},
		{"italic with a stop", []face{{"Drying of eggs.", "italic", 0}, {"They were dried over calcium chloride for a month.", "", 0.5}},
			[]string{"heading:Drying of eggs.", "paragraph:They were dried over calcium chloride for a month. " + text}},
		{"italic with an upright stop", []face{{"Drying of eggs", "italic", 0}, {". They were dried over calcium chloride for a month.", "", 0}},
			[]string{"heading:Drying of eggs.", "paragraph:They were dried over calcium chloride for a month. " + text}},
		{"italic with a stop and dash", []face{{"Drying of eggs.", "italic", 0}, {"—They were dried over calcium chloride for a month.", "", 0}},
			[]string{"heading:Drying of eggs.—", "paragraph:They were dried over calcium chloride for a month. " + text}},
		{"italic with a wide gap", []face{{"Drying of eggs", "italic", 0}, {"They were dried over calcium chloride for a month.", "", 1}},
			[]string{"heading:Drying of eggs", "paragraph:They were dried over calcium chloride for a month. " + text}},
		{"species heading", []face{{"Fictocaris umbrosa.", "italic", 0}, {"They were dried over calcium chloride for a month.", "", 0.5}},
			[]string{"heading:Fictocaris umbrosa.", "paragraph:They were dried over calcium chloride for a month. " + text}},
		{"species as the subject", []face{{"Fictocaris umbrosa", "italic", 0}, {"was dried over calcium chloride for a whole month.", "", 0.5}},
			[]string{"paragraph:Fictocaris umbrosa was dried over calcium chloride for a whole month. " + text}},
		{"species before a name", []face{{"Fictocaris umbrosa", "italic", 0}, {"Haldon was dried over calcium chloride for a month.", "", 0.5}},
			[]string{"paragraph:Fictocaris umbrosa Haldon was dried over calcium chloride for a month. " + text}},
		{"abbreviated species", []face{{"F. umbrosa", "italic", 0}, {"Eggs were dried over calcium chloride for a whole month.", "", 0.5}},
			[]string{"paragraph:F. umbrosa Eggs were dried over calcium chloride for a whole month. " + text}},
		{"keywords", []face{{"Keywords:", "italic", 0}, {"Cold, drying, eggs that were dried over calcium chloride.", "", 0.5}},
			[]string{"paragraph:Keywords: Cold, drying, eggs that were dried over calcium chloride. " + text}},
		{"a word in italics", []face{{"In vitro", "italic", 0}, {"they were dried over calcium chloride for a whole month.", "", 1}},
			[]string{"paragraph:In vitro they were dried over calcium chloride for a whole month. " + text}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := ingesttest.NewSetter()
			setFaces(s, 50, 100, 10, c.first...)
			s.Lines(50, 112, 10, text)
			if diff := cmp.Diff(c.want, ingesttest.Kinds(assemble(t, s).Pages[0])); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// TestItalicHeadings: a heading in the size of the text, told from it by its
// face and by having a line to itself.
func TestItalicHeadings(t *testing.T) {
	const (
		end  = "in which they were left until the spring of the next year came around."
		text = "None of the eggs that had been dried was seen to hatch in these weeks."
	)
	for _, c := range []struct {
		name  string
		lines [][]face
		want  []string
	}{
		{"below a paragraph", [][]face{{{end, "", 0}}, {{"Drying and the length of the cold", "italic", 0}}, {{text, "", 0}}},
			[]string{"paragraph:" + end, "heading:Drying and the length of the cold", "paragraph:" + text}},
		{"of a species", [][]face{{{end, "", 0}}, {{"Fictocaris umbrosa", "italic", 0}}, {{text, "", 0}}},
			[]string{"paragraph:" + end, "heading:Fictocaris umbrosa", "paragraph:" + text}},
		{"with a species set upright", [][]face{{{end, "", 0}}, {{"The cold that", "italic", 0}, {"F. umbrosa", "", 0.5}, {"needs", "italic", 0.5}}, {{text, "", 0}}},
			[]string{"paragraph:" + end, "heading:The cold that F. umbrosa needs", "paragraph:" + text}},
		{"half of it a species set upright", [][]face{{{end, "", 0}}, {{"Warm water and", "italic", 0}, {"Q. pallidipes", "", 0.5}}, {{text, "", 0}}},
			[]string{"paragraph:" + end, "heading:Warm water and Q. pallidipes", "paragraph:" + text}},
		{"before a species", [][]face{{{"Drying and the length of the cold", "italic", 0}}, {{"Fictocaris", "italic", 0}, {"eggs that had been dried were never seen to hatch in March.", "", 0.5}}, {{text, "", 0}}},
			[]string{"heading:Drying and the length of the cold", "paragraph:Fictocaris eggs that had been dried were never seen to hatch in March. " + text}},
		{"species at a line's start", [][]face{{{"None of the many eggs that had been taken and dried were of the species", "", 0}}, {{"Fictocaris umbrosa", "italic", 0}}, {{"Haldon, which was seen to hatch in the weeks after it was wetted again.", "", 0}}},
			[]string{"paragraph:None of the many eggs that had been taken and dried were of the species Fictocaris umbrosa Haldon, which was seen to hatch in the weeks after it was wetted again."}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := ingesttest.NewSetter()
			for i, line := range c.lines {
				setFaces(s, 50, 100+12*float32(i), 10, line...)
			}
			if diff := cmp.Diff(c.want, ingesttest.Kinds(assemble(t, s).Pages[0])); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// TestNumberedHeadings: a heading that nothing but its number tells from the text.
func TestNumberedHeadings(t *testing.T) {
	const (
		end  = "in which they were left until the spring of the next year came around."
		text = "None of the eggs that had been dried was seen to hatch in these weeks."
	)
	for _, c := range []struct {
		name  string
		lines []string
		want  []string
	}{
		{"of a part of a section", []string{end, "3.3.2 Speed of the hatch", text}, []string{"paragraph:" + end, "heading:3.3.2 Speed of the hatch", "paragraph:" + text}},
		{"a number inside a sentence", []string{"None of the eggs that had been left for weeks at the conductivity of", "2.5 Millisiemens or so", "hatched, and most of them were found to have been eaten by the worms."},
			[]string{"paragraph:None of the eggs that had been left for weeks at the conductivity of 2.5 Millisiemens or so hatched, and most of them were found to have been eaten by the worms."}},
		{"a sentence that begins with a number", []string{end, "2.5 Millimetres is their size.", text}, []string{"paragraph:" + end + " 2.5 Millimetres is their size.", "paragraph:" + text}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := ingesttest.NewSetter()
			for i, line := range c.lines {
				setFaces(s, 50, 100+12*float32(i), 10, face{line, "", 0})
			}
			if diff := cmp.Diff(c.want, ingesttest.Kinds(assemble(t, s).Pages[0])); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// TestBoldAuthorsInReferences: where a list of references has its authors in bold
// type, over lines that end early, they open entries and no sections.
func TestBoldAuthorsInReferences(t *testing.T) {
	s := ingesttest.NewSetter()
	s.Lines(50, 100, 10, "The eggs of the shrimp were taken from a dry pool, and kept in the cold.", "Some were dried, and none of those that had been dried was ever hatched.")
	setFaces(s, 50, 160, 10, face{"References", "bold", 0})
	setFaces(s, 50, 175, 10, face{"Birk, A. and Moor, P.", "bold", 0}, face{"(1990).", "", 0.5})
	s.Lines(60, 187, 10, "Wet eggs of the pools. Pool Letters 3, 5-9. doi:10.1234/pl.1990.", "00387.x")
	setFaces(s, 50, 211, 10, face{"Haldon, P. Q., Thorn, E., Hallow, J. K., Quill, A., Lindner, K. and", "bold", 0})
	setFaces(s, 60, 223, 10, face{"Birk, A.", "bold", 0}, face{"(1992). Dry eggs of the pools. Pool Letters 5, 11-19.", "", 0.5})
	got := ingesttest.Blocks(assemble(t, s).Pages[0])
	want := []string{"heading/references:References",
		"reference/references:Birk, A. and Moor, P. (1990). Wet eggs of the pools. Pool Letters 3, 5-9. doi:10.1234/pl.1990. 00387.x",
		"reference/references:Haldon, P. Q., Thorn, E., Hallow, J. K., Quill, A., Lindner, K. and Birk, A. (1992). Dry eggs of the pools. Pool Letters 5, 11-19."}
	if diff := cmp.Diff(want, got[1:]); diff != "" {
		t.Error(diff)
	}
}

// TestNumberedReferences: entries begin at their numbers, however these are set, and
// at no name in between.
func TestNumberedReferences(t *testing.T) {
	for _, form := range []string{"%d. ", "[%d] ", "(%d) ", "%d) "} {
		s := ingesttest.NewSetter()
		s.Lines(50, 100, 10, "The eggs of the shrimp were taken from a dry pool, and kept in the cold.", "Some were dried, and none of those that had been dried was ever hatched.")
		setFaces(s, 50, 160, 10, face{"References", "bold", 0})
		s.Lines(50, 175, 10, fmt.Sprintf(form, 9)+"Birk A, Moor P. Wet eggs of the pools. Pool Lett. 1990;3:5-9. In: Pools,", "ed. by Thorn E and Hallow JK. Nowhere.", "Quill A, second editor.",
			fmt.Sprintf(form, 10)+"Haldon PQ. Dry eggs of the pools. Pool Lett. 1992;5:11-19.", fmt.Sprintf(form, 11)+"Thorn E. Mud. Pool Lett. 1993;6:1.")
		var got []string
		for _, b := range ingesttest.Kinds(assemble(t, s).Pages[0])[2:] {
			kind, text, _ := strings.Cut(b, ":")
			got = append(got, kind+" "+text[:len(fmt.Sprintf(form, 10))+4])
		}
		want := []string{"reference " + fmt.Sprintf(form, 9) + "Birk ", "reference " + fmt.Sprintf(form, 10) + "Hald", "reference " + fmt.Sprintf(form, 11) + "Thor"}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%q: %s", form, diff)
		}
	}
}

// TestItalicsInReferences: titles and journals in italics open no section.
func TestItalicsInReferences(t *testing.T) {
	s := ingesttest.NewSetter()
	s.Lines(50, 100, 10, "The eggs of the shrimp were taken from a dry pool, and kept in the cold.", "Some were dried, and none of those that had been dried was ever hatched.")
	setFaces(s, 50, 160, 10, face{"References", "bold", 0})
	setFaces(s, 50, 175, 10, face{"Haldon, P. Q. 1962. On the hatching of the winter eggs of fairy shrimps.", "", 0})
	setFaces(s, 50, 187, 10, face{"Notes on Pools", "italic", 0}, face{"9, 117-119.", "", 0.5})
	setFaces(s, 50, 199, 10, face{"Thorn, E. 1974. Drought and winter as the conditions of their hatchings.", "", 0})
	setFaces(s, 50, 211, 10, face{"Methods in Insects", "italic", 0}, face{"6.", "", 0.5})
	got := ingesttest.Blocks(assemble(t, s).Pages[0])
	want := []string{"heading/references:References",
		"reference/references:Haldon, P. Q. 1962. On the hatching of the winter eggs of fairy shrimps. Notes on Pools 9, 117-119.",
		"reference/references:Thorn, E. 1974. Drought and winter as the conditions of their hatchings. Methods in Insects 6."}
	if diff := cmp.Diff(want, got[1:]); diff != "" {
		t.Error(diff)
	}
}

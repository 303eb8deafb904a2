package reader

import (
	"strconv"
	"strings"
	"testing"

	"hatchlore/ingest/pdf/pdftest"
)

func TestAllSeen(t *testing.T) {
	seen := map[string]bool{"10": true, "2.5": true, "30": true}
	for printed, want := range map[string]bool{"10 °C": true, "2.5–30 d": true, "2.5–31 d": false, "25 °C": false, "two weeks": false} {
		if got := allSeen(numbers.FindAllString(printed, -1), seen); got != want {
			t.Errorf("%q twice read: %v", printed, got)
		}
	}
}

// TestWitness: a claim is marked as read twice when the second reader prints its
// figures on the page, and only then. What a form draws the second reader does not
// see.
func TestWitness(t *testing.T) {
	page := pdftest.Line(20, 560, "Hatching of the invented shrimp Fictocaris umbrosa") +
		pdftest.Line(20, 530, "The eggs of Fictocaris umbrosa hatched at 12 \\260C in the light.") + "/Form Do\n"
	objects := pdftest.Pages("", page)
	objects = append(objects, pdftest.Object{
		Dict:   "/Type /XObject /Subtype /Form /BBox [0 0 400 600] /Resources <</Font <</F1 3 0 R>>>>",
		Stream: []byte(pdftest.Line(20, 500, "No eggs of Fictocaris umbrosa hatched at 27 \\260C in the light.")),
	})
	form := len(objects)
	for i := range objects {
		objects[i].Dict = strings.Replace(objects[i].Dict, "/Font <</F1 3 0 R /F2", "/XObject <</Form "+strconv.Itoa(form)+" 0 R>> /Font <</F1 3 0 R /F2", 1)
	}
	reading, err := newReader(t, Options{}).Read(t.Context(), pdftest.Save(t, "form.pdf", pdftest.Write(objects, "")))
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]bool{}
	for _, c := range reading.Claims {
		found[c.Printed] = true
		if want := c.Printed == "12 °C"; c.TwiceRead != want {
			t.Errorf("%q read twice: %v", c.Printed, c.TwiceRead)
		}
	}
	if !found["12 °C"] || !found["27 °C"] {
		t.Errorf("claims of %v, want 12 and 27 °C", found)
	}
}

package reader

import "testing"

func TestAllSeen(t *testing.T) {
	seen := map[string]bool{"10": true, "2.5": true, "30": true}
	for printed, want := range map[string]bool{"10 °C": true, "2.5–30 d": true, "2.5–31 d": false, "25 °C": false, "two weeks": false} {
		if got := allSeen(numbers.FindAllString(printed, -1), seen); got != want {
			t.Errorf("%q twice read: %v", printed, got)
		}
	}
}

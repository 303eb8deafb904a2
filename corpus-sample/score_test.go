package corpus

import (
	"testing"

	"hatchlore/evidence"
)

func at(v float64) *float64 { return &v }

func TestCompare(t *testing.T) {
	gold := []Claim{
		{Taxon: "Ficta alba", Factor: evidence.WarmTemperature, Bearing: evidence.Favours, Low: at(10), High: at(10)},
		{Taxon: "Ficta alba", Factor: evidence.ColdLength, Bearing: evidence.Favours, Low: at(30)},
		{Taxon: "Ficta alba", Factor: evidence.Drying, Bearing: evidence.Indifferent, Category: "not-required"},
	}
	read := []evidence.Claim{
		{Taxon: "Ficta  ALBA", Factor: evidence.WarmTemperature, Bearing: evidence.Favours, Low: at(10.05), High: at(10)},
		{Taxon: "Ficta alba", Factor: evidence.ColdLength, Bearing: evidence.Prevents, Low: at(30)},
		{Taxon: "Ficta nigra", Factor: evidence.Drying, Bearing: evidence.Indifferent, Category: "not-required"},
		{Taxon: "Ficta alba", Factor: evidence.ColdLength, Bearing: evidence.Favours, Low: at(30), High: at(30)}, // closed, not open
		{Taxon: "Ficta alba", Factor: evidence.WarmTemperature, Bearing: evidence.Favours, Low: at(4), High: at(4), Implied: true},
	}
	want := Agreement{Score{3, 3, 4}, Score{2, 3, 4}, Score{1, 3, 4}}
	if got := Compare(gold, read); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

// A label must not be kept from its only partner by one that has another.
func TestCompareMatchesAsManyAsCanBe(t *testing.T) {
	gold := []Claim{
		{Factor: evidence.Drying, Bearing: evidence.Favours},                       // any drying
		{Factor: evidence.Drying, Bearing: evidence.Favours, Category: "required"}, // this one only
	}
	read := []evidence.Claim{
		{Factor: evidence.Drying, Bearing: evidence.Favours, Category: "required"},
		{Factor: evidence.Drying, Bearing: evidence.Favours, Category: "helpful"},
	}
	if got := Compare(gold, read).Value; got.Right != 2 {
		t.Errorf("matched %d of 2", got.Right)
	}
}

func TestScore(t *testing.T) {
	s := Score{Right: 3, Gold: 6, Claimed: 4}
	if s.Precision() != 0.75 || s.Recall() != 0.5 || s.F1() != 0.6 {
		t.Errorf("%v", s)
	}
	if (Score{}).F1() != 0 {
		t.Error("nothing read of nothing is no success")
	}
}

package conflict

import (
	"slices"
	"testing"
)

func TestPassages(t *testing.T) {
	s := Side{Says: []Saying{
		{Claim: "1", Paper: "alder", Page: 1, Value: "30 d", Quote: "a month of cold is enough for them", Secondhand: true},
		{Claim: "2", Paper: "birch", Page: 2, Value: "5 °C", Quote: "5\t44", Words: "temperature 5 · hatched 44", Table: true},
		{Claim: "3", Paper: "birch", Page: 2, Value: "5 °C", Quote: "at 5 and 8 °C 44 and 58 % hatched"},
		{Claim: "4", Paper: "birch", Page: 2, Value: "8 °C", Quote: "at 5 and 8 °C 44 and 58 % hatched"},
		{Claim: "5", Paper: "birch", Page: 2, Value: "8 °C", Quote: "at 5 and 8 °C 44 and 58 % hatched", Stage: "emergence"},
		{Claim: "6", Paper: "birch", Page: 1, Value: "8 °C", Quote: "8 °C"},
	}}
	got := s.Passages()
	var claims [][]string
	for _, p := range got {
		claims = append(claims, p.Claims)
	}
	want := [][]string{{"3", "4"}, {"5"}, {"2"}, {"6"}, {"1"}}
	if !slices.EqualFunc(claims, want, slices.Equal[[]string]) {
		t.Errorf("claims %v, want %v", claims, want)
	}
	if p := got[0]; !slices.Equal(p.Values, []string{"5 °C", "8 °C"}) || p.Words != s.Says[2].Quote || p.Table {
		t.Errorf("%+v", p)
	}
	if p := got[2]; !p.Table || p.Words != "temperature 5 · hatched 44" {
		t.Errorf("%+v", p)
	}
}

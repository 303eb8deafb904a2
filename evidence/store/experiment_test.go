package store

import (
	"strings"
	"testing"
	"time"
)

func TestExperiments(t *testing.T) {
	ctx := t.Context()
	s := open(t, t.TempDir())
	for _, key := range []string{"alder1960", "alder1962", "birch1975"} {
		if _, err := s.Put(ctx, Paper{Key: key, Hash: "hash of " + key, Source: key + ".txt", Format: "txt"}, nil); err != nil {
			t.Fatal(err)
		}
	}
	at := time.Date(2026, 2, 3, 0, 0, 0, 0, time.UTC)
	for _, e := range []Experiment{
		{Paper: "alder1962", First: "alder1960", Reason: "the thesis behind it", At: at},
		{Paper: "birch1975", At: at},
		{Paper: "birch1975", Reason: "another winter", At: at},
	} {
		if err := s.SetExperiment(ctx, e); err != nil {
			t.Fatal(err)
		}
	}
	got, err := s.Experiments(ctx)
	want := []Experiment{{"alder1962", "alder1960", "the thesis behind it", at}, {"birch1975", "", "another winter", at}}
	if err != nil || len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
		t.Errorf("%+v %v", got, err)
	}
	for want, e := range map[string]Experiment{
		"second time":     {Paper: "alder1960", First: "alder1960"},
		"take that back":  {Paper: "alder1960", First: "alder1962"},
		"no such paper":   {Paper: "cedar1990"},
		"no such paper\n": {Paper: "alder1962", First: "cedar1990"},
	} {
		if err := s.SetExperiment(ctx, e); err == nil || !strings.Contains(err.Error(), strings.TrimSpace(want)) {
			t.Errorf("%+v: %v, want %q", e, err, want)
		}
	}
	for _, want := range []bool{true, false} {
		if known, err := s.RemoveExperiment(ctx, "birch1975"); known != want || err != nil {
			t.Errorf("known %t, %v; want %t", known, err, want)
		}
	}
}

package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"strconv"
	"strings"

	"hatchlore/evidence/trial"
)

// invent stands in a script for the keeper at the bench: it reads a plan's
// JSON from standard input and writes a sheet of counts. Arguments say what
// share hatches at a level, as drying=14:0.6; the shares of a dish's levels are
// multiplied, one that is not named is 1. "until=N" fills the first N dishes
// only. What hatches does so at the look after the trigger, and none at the last.
func invent() {
	if err := inventCounts(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func inventCounts(args []string) error {
	var p trial.Plan
	if err := json.NewDecoder(os.Stdin).Decode(&p); err != nil {
		return err
	}
	shares := map[string]float64{}
	until := len(p.Dishes)
	for _, a := range args {
		if n, ok := strings.CutPrefix(a, "until="); ok {
			until, _ = strconv.Atoi(n)
			continue
		}
		level, share, _ := strings.Cut(a, ":")
		v, err := strconv.ParseFloat(share, 64)
		if err != nil {
			return fmt.Errorf("%s: %w", a, err)
		}
		shares[level] = v
	}
	w := bufio.NewWriter(os.Stdout)
	fmt.Fprintln(w, "dish,date,eggs,emerged,hatched,dead,note")
	for i, d := range p.Dishes[:min(until, len(p.Dishes))] {
		share := 1.0
		for f, s := range d.Levels {
			if v, ok := shares[string(f)+"="+s.String()]; ok {
				share *= v
			}
		}
		n := int(share*float64(d.Eggs) + 0.5)
		if n > 0 && n < d.Eggs {
			n += (i*7)%3 - 1 // dishes differ
		}
		looks := []trial.Day{}
		for _, s := range d.Steps {
			if s.Act == trial.ActLook {
				looks = append(looks, s.Date)
			}
		}
		fmt.Fprintf(w, "%s,%s,%d,,%d,0,\n", d.Label, looks[0], d.Eggs, n)
		fmt.Fprintf(w, "%s,%s,%d,,0,0,\n", d.Label, looks[len(looks)-1], d.Eggs)
	}
	return w.Flush()
}

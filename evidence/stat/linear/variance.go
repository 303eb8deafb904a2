package linear

import (
	"fmt"

	"hatchlore/evidence/stat"
)

// Source is one line of an analysis of variance: columns entered after those of
// the sources before it.
type Source struct {
	Name    string
	Columns [][]float64
}

// SumLine is what a source explains.
type SumLine struct {
	Name   string
	DF     int
	Sum    float64 // of squares
	Square float64 // mean; NaN-free: 0 where DF is 0
}

// SequentialSums splits the squares of y about its mean over the sources, in
// order; the last line, "residual", is what is left. In a balanced layout the
// order of crossed sources does not matter, and chamber runs entered between
// whole-plot and dish factors are the whole plots' error.
func SequentialSums(y []float64, sources []Source) ([]SumLine, error) {
	ones := make([]float64, len(y))
	for i := range ones {
		ones[i] = 1
	}
	s, err := NewErrorSpace([][]float64{ones})
	if err != nil {
		return nil, err
	}
	var out []SumLine
	rss := s.RSS(y)
	for _, src := range sources {
		rank := s.Rank()
		for _, c := range src.Columns {
			if len(c) != len(y) {
				return nil, fmt.Errorf("source %s has %d values for %d outcomes", src.Name, len(c), len(y))
			}
			s.Add(c)
		}
		next := s.RSS(y)
		out = append(out, sumLine(src.Name, s.Rank()-rank, rss-next))
		rss = next
	}
	return append(out, sumLine("residual", s.DF(), rss)), nil
}

func sumLine(name string, df int, sum float64) SumLine {
	l := SumLine{Name: name, DF: df, Sum: sum}
	if df > 0 {
		l.Square = sum / float64(df)
	}
	return l
}

// FTest tests one line against another as its error.
func FTest(effect, errorLine SumLine) stat.TermTest {
	f := effect.Square / errorLine.Square
	return stat.TermTest{Statistic: f, DF1: effect.DF, DF2: errorLine.DF, P: stat.FTail(f, float64(effect.DF), float64(errorLine.DF))}
}

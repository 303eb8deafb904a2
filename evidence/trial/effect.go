package trial

// EffectRow codes one dish for a model of the factors' own effects: a constant,
// then a column for each level after the first. In the added control no factor
// that is set for dishes has an effect.
func EffectRow(factors []Factor, settings []Setting, control bool) []float64 {
	row := []float64{1}
	for i, f := range factors {
		for _, l := range f.Levels[1:] {
			v := 0.0
			if settings[i] == l && (!control || f.WholePlot) {
				v = 1
			}
			row = append(row, v)
		}
	}
	return row
}

package trial

// Cautions returns what every plan must say beside its figures.
func Cautions() []string {
	return []string{
		"Many animals of temporary pools are protected: collecting, keeping, moving or releasing eggs or animals can need a permit. Ask first; local law and licensed people decide.",
		"Never put eggs, animals or their water into a pool, not even the one they came from, on your own: that carries disease and mixes populations.",
		"Between sites and between lots, dry, heat or bleach nets, sieves and dishes.",
		"Carbon dioxide and dry ice suffocate in closed rooms and burst closed vessels: work in moving air and never seal a vial.",
		"Bleach, peroxide and acids burn: wear gloves and goggles, and never mix them.",
		"Put chillers and lamps near water behind a residual-current device.",
		"Figures from papers are not instructions: start small and keep part of every lot back.",
	}
}

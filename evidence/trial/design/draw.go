package design

import "math/rand/v2"

// Streams of the one seed, so that asking for another figure never moves a dish.
const (
	streamLayout  = 0x6c61796f7574
	streamLabel   = 0x6c6162656c
	streamOptimal = 0x6f7074696d616c
	streamBlocks  = 0x626c6f636b73
)

func generator(seed, stream uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, stream)) }

// below draws from 0..n-1 by rejection. It uses the generator's raw words, whose
// sequence the language promises, rather than helpers that may change.
func below(n int, r *rand.Rand) int {
	bound := uint64(n)
	for limit := -bound % bound; ; {
		if x := r.Uint64(); x >= limit {
			return int(x % bound)
		}
	}
}

// permutation returns 0..n-1 in random order (Fisher and Yates).
func permutation(n int, r *rand.Rand) []int {
	p := make([]int, n)
	for i := range p {
		j := below(i+1, r)
		p[i] = p[j]
		p[j] = i
	}
	return p
}

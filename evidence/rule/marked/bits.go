package marked

// Bits is a set of classes.
type Bits [maxClasses / 64]uint64

const maxClasses = 320

// Set adds a class.
func (b *Bits) Set(i int) { b[i/64] |= 1 << (i % 64) }

// Has reports whether the class is in the set.
func (b Bits) Has(i int) bool { return b[i/64]&(1<<(i%64)) != 0 }

// Meets reports whether the sets share a class.
func (b Bits) Meets(o Bits) bool {
	for i := range b {
		if b[i]&o[i] != 0 {
			return true
		}
	}
	return false
}

// Join adds the classes of another set.
func (b *Bits) Join(o Bits) {
	for i := range b {
		b[i] |= o[i]
	}
}

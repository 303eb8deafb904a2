package pdf

// Matrix is a transformation of the plane: a b c d e f (ISO 32000-1, 8.3.3).
type Matrix [6]float64

// Identity changes nothing.
var Identity = Matrix{1, 0, 0, 1, 0, 0}

// Then returns m followed by n.
func (m Matrix) Then(n Matrix) Matrix {
	return Matrix{
		m[0]*n[0] + m[1]*n[2], m[0]*n[1] + m[1]*n[3],
		m[2]*n[0] + m[3]*n[2], m[2]*n[1] + m[3]*n[3],
		m[4]*n[0] + m[5]*n[2] + n[4], m[4]*n[1] + m[5]*n[3] + n[5],
	}
}

// Point returns where a point comes to lie.
func (m Matrix) Point(x, y float64) (float64, float64) {
	return m[0]*x + m[2]*y + m[4], m[1]*x + m[3]*y + m[5]
}

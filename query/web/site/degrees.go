package site

import (
	"net/http"

	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
	"hatchlore/species/value"
)

// Degrees is the scale in which temperatures are shown. Claims keep degrees
// Celsius; this is a matter of show.
type Degrees quantity.Unit

// degreesName is the cookie, and the query parameter, with the scale.
const degreesName = "degrees"

// DegreesOf is the scale that a request asks for, or was chosen before.
func DegreesOf(r *http.Request) Degrees {
	chosen := r.URL.Query().Get(degreesName)
	if chosen == "" {
		if c, err := r.Cookie(degreesName); err == nil {
			chosen = c.Value
		}
	}
	if quantity.Unit(chosen) == quantity.DegF {
		return Degrees(quantity.DegF)
	}
	return Degrees(quantity.DegC)
}

// Fahrenheit reports whether the scale is that of Fahrenheit.
func (d Degrees) Fahrenheit() bool { return quantity.Unit(d) == quantity.DegF }

// rememberDegrees keeps a scale that was just chosen for later pages.
func rememberDegrees(w http.ResponseWriter, r *http.Request) {
	if r.URL.Query().Get(degreesName) == "" {
		return
	}
	http.SetCookie(w, &http.Cookie{Name: degreesName, Value: string(DegreesOf(r)), Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode, MaxAge: 365 * 24 * 3600})
}

// Shown is a claim with its temperatures in the scale.
func (d Degrees) Shown(c evidence.Claim) evidence.Claim {
	if !d.Fahrenheit() || c.Unit != string(quantity.DegC) {
		return c
	}
	c.Low, c.High, c.Unit = d.convert(c.Low), d.convert(c.High), string(quantity.DegF)
	return c
}

func (d Degrees) convert(v *float64) *float64 {
	if v == nil {
		return nil
	}
	f, err := quantity.Convert(*v, quantity.DegC, quantity.Unit(d))
	if err != nil { // never between two scales of temperature
		return v
	}
	return &f
}

// Value prints a claim's value in the scale.
func (d Degrees) Value(c evidence.Claim) string { return value.Of(d.Shown(c)) }

package main

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"regexp"
)

// scan makes a PDF of page pictures only, as a flatbed scanner would: each
// page a little askew, with grain, uneven light and specks.
func scan(out string, pages []string) error {
	noise := rand.New(rand.NewPCG(1962, 3))
	var pictures []picture
	for i, name := range pages {
		img, err := readPGM(name)
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		skew := []float64{0.5, -0.4, 0.7}[i%3] * math.Pi / 180
		var data bytes.Buffer
		if err := jpeg.Encode(&data, age(img, skew, noise), &jpeg.Options{Quality: 38}); err != nil {
			return err
		}
		pictures = append(pictures, picture{data.Bytes(), img.Bounds().Dx(), img.Bounds().Dy()})
	}
	return os.WriteFile(out, picturePDF(pictures, 200), 0o644)
}

func readPGM(name string) (*image.Gray, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	var w, h, max int
	if _, err := fmt.Sscanf(string(data[:min(len(data), 40)]), "P5\n%d %d\n%d", &w, &h, &max); err != nil {
		return nil, fmt.Errorf("not a grey picture: %w", err)
	}
	if max != 255 || len(data) < w*h {
		return nil, fmt.Errorf("a picture of %d × %d with %d greys in %d bytes", w, h, max, len(data))
	}
	img := image.NewGray(image.Rect(0, 0, w, h))
	copy(img.Pix, data[len(data)-w*h:])
	return img, nil
}

// age turns the picture by skew (radians) about its middle and wears it.
func age(img *image.Gray, skew float64, noise *rand.Rand) *image.Gray {
	b := img.Bounds()
	out := image.NewGray(b)
	cx, cy := float64(b.Dx())/2, float64(b.Dy())/2
	sin, cos := math.Sincos(skew)
	for y := range b.Dy() {
		for x := range b.Dx() {
			dx, dy := float64(x)-cx, float64(y)-cy
			v := sample(img, cx+dx*cos-dy*sin, cy+dx*sin+dy*cos)
			paper := 236 - 14*float64(x)/float64(b.Dx()) // light falls off towards the spine
			v = 34 + v/255*(paper-34) + noise.NormFloat64()*3
			out.SetGray(x, y, color.Gray{Y: uint8(math.Max(0, math.Min(255, v)))})
		}
	}
	for range 60 { // dust
		x, y := noise.IntN(b.Dx()), noise.IntN(b.Dy())
		out.SetGray(x, y, color.Gray{Y: 90})
		out.SetGray(x+1, y, color.Gray{Y: 110})
	}
	return out
}

// sample is the grey at a point between pixels; white off the page.
func sample(img *image.Gray, x, y float64) float64 {
	x0, y0 := int(math.Floor(x)), int(math.Floor(y))
	fx, fy := x-float64(x0), y-float64(y0)
	at := func(x, y int) float64 {
		if !(image.Point{X: x, Y: y}).In(img.Bounds()) {
			return 255
		}
		return float64(img.GrayAt(x, y).Y)
	}
	return (at(x0, y0)*(1-fx)+at(x0+1, y0)*fx)*(1-fy) + (at(x0, y0+1)*(1-fx)+at(x0+1, y0+1)*fx)*fy
}

type picture struct {
	jpeg []byte
	w, h int
}

// picturePDF lays each picture over a page of its own at the given dots an
// inch (ISO 32000-1, 7.5 and 8.9.5: DCTDecode images).
func picturePDF(pics []picture, dpi float64) []byte {
	var b bytes.Buffer
	var offsets []int
	object := func(format string, args ...any) {
		offsets = append(offsets, b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n"+format+"\nendobj\n", append([]any{len(offsets)}, args...)...)
	}
	b.WriteString("%PDF-1.4\n")
	object("<< /Type /Catalog /Pages 2 0 R >>")
	kids := ""
	for i := range pics {
		kids += fmt.Sprintf("%d 0 R ", 3+3*i)
	}
	object("<< /Type /Pages /Kids [%s] /Count %d >>", kids, len(pics))
	for i, p := range pics {
		w, h := float64(p.w)*72/dpi, float64(p.h)*72/dpi
		object("<< /Type /Page /Parent 2 0 R /MediaBox [0 0 %.2f %.2f] /Contents %d 0 R /Resources << /XObject << /P %d 0 R >> >> >>", w, h, 4+3*i, 5+3*i)
		draw := fmt.Sprintf("q %.2f 0 0 %.2f 0 0 cm /P Do Q", w, h)
		object("<< /Length %d >>\nstream\n%s\nendstream", len(draw), draw)
		object("<< /Type /XObject /Subtype /Image /Width %d /Height %d /ColorSpace /DeviceGray /BitsPerComponent 8 /Filter /DCTDecode /Length %d >>\nstream\n%s\nendstream",
			p.w, p.h, len(p.jpeg), p.jpeg)
	}
	start := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(offsets)+1)
	for _, o := range offsets {
		fmt.Fprintf(&b, "%010d 00000 n \n", o)
	}
	fmt.Fprintf(&b, "trailer\n<< /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n", len(offsets)+1, start)
	return b.Bytes()
}

var dates = regexp.MustCompile(`\(D:\d{14}[+\-Z][0-9']*\)`)

// still replaces the dates in a PDF by one of the same length, so that a
// rebuild gives the same bytes.
func still(name string) error {
	data, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	data = dates.ReplaceAllFunc(data, func(old []byte) []byte {
		fixed := append([]byte("(D:20240101000000"), old[17:]...)
		return fixed
	})
	return os.WriteFile(name, data, 0o644)
}

package pdfium

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math"
)

// Values of pdfium's fpdfview.h.
const (
	bitmapBGRx        = 3    // FPDFBitmap_BGRx: four bytes a pixel, no alpha
	renderAnnotations = 0x01 // FPDF_ANNOT
	renderReversed    = 0x10 // FPDF_REVERSE_BYTE_ORDER: red first
)

// maxPixels bounds a page picture: an A3 page at 300 dpi has 17 million.
const maxPixels = 24_000_000

// Picture draws one page, counted from 1, as PNG. A page too large for the
// resolution asked is drawn at the highest that fits.
func (d *Document) Picture(number, dpi int) ([]byte, error) {
	page := d.call("FPDF_LoadPage", d.handle, uint64(number-1))
	if page == 0 {
		return nil, fmt.Errorf("page %d is damaged", number)
	}
	defer d.call("FPDF_ClosePage", page)
	wide, high := d.view(page).size()
	scale := float64(dpi) / 72
	if px := wide * high * scale * scale; px > maxPixels {
		scale *= math.Sqrt(maxPixels / px)
	}
	w, h := int(wide*scale), int(high*scale)
	if w < 1 || h < 1 {
		return nil, fmt.Errorf("page %d has no area", number)
	}
	raw, stride, free := d.draw(page, w, h)
	switch {
	case d.err != nil:
		return nil, d.err
	case raw == nil:
		return nil, fmt.Errorf("page %d is too large to draw", number)
	}
	defer free()
	return encode(raw, w, h, stride)
}

// draw draws a page over a white ground as rows of RGBx pixels, which are good
// until free; nil where the page cannot be drawn.
func (d *Document) draw(page uint64, w, h int) (raw []byte, stride int, free func()) {
	bitmap := d.call("FPDFBitmap_CreateEx", uint64(w), uint64(h), bitmapBGRx, 0, 0)
	if bitmap == 0 {
		return nil, 0, nil
	}
	free = func() { d.call("FPDFBitmap_Destroy", bitmap) }
	d.call("FPDFBitmap_FillRect", bitmap, 0, 0, uint64(w), uint64(h), 0xFFFFFFFF)
	d.call("FPDF_RenderPageBitmap", bitmap, page, 0, 0, uint64(w), uint64(h), 0, renderAnnotations|renderReversed)
	stride = int(d.call("FPDFBitmap_GetStride", bitmap))
	raw, ok := d.mod.Memory().Read(uint32(d.call("FPDFBitmap_GetBuffer", bitmap)), uint32(stride*h))
	if d.err != nil || !ok {
		free()
		return nil, 0, nil
	}
	return raw, stride, free
}

// encode turns rows of RGBx pixels into a PNG, grey where the page is.
func encode(raw []byte, w, h, stride int) ([]byte, error) {
	var img image.Image
	if colourless(raw, w, h, stride) {
		grey := image.NewGray(image.Rect(0, 0, w, h))
		for y := range h {
			row := raw[y*stride:]
			for x := range w {
				grey.Pix[y*grey.Stride+x] = row[4*x]
			}
		}
		img = grey
	} else {
		rgb := image.NewRGBA(image.Rect(0, 0, w, h))
		for y := range h {
			copy(rgb.Pix[y*rgb.Stride:], raw[y*stride:y*stride+4*w])
			for x := range w {
				rgb.Pix[y*rgb.Stride+4*x+3] = 255
			}
		}
		img = rgb
	}
	var out bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&out, img); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

func colourless(raw []byte, w, h, stride int) bool {
	for y := range h {
		row := raw[y*stride:]
		for x := 0; x < 4*w; x += 4 {
			if row[x] != row[x+1] || row[x] != row[x+2] {
				return false
			}
		}
	}
	return true
}

package process

import (
	"bytes"
	"context"
	"crypto/md5"
	"crypto/rc4"
	"encoding/hex"
	"errors"
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"hatchlore/ingest/pdf"
	"hatchlore/ingest/pdf/pdftest"
)

func TestMain(m *testing.M) {
	if Serving() {
		if err := Serve(os.Stdin, os.Stdout); err != nil {
			os.Stderr.WriteString(err.Error() + "\n")
			os.Exit(1)
		}
		return
	}
	if os.Getenv(envOrphan) != "" {
		orphan()
	}
	os.Exit(m.Run())
}

func reader(t *testing.T, opt Options) *Reader {
	t.Helper()
	if opt.Processes == 0 {
		opt.Processes = 1
	}
	r, err := Start(context.Background(), opt)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { r.Close() })
	return r
}

// text returns what the characters of a page spell.
func text(p pdf.Page) string {
	var b strings.Builder
	for _, c := range p.Chars {
		b.WriteRune(c.Rune)
	}
	return b.String()
}

func TestRead(t *testing.T) {
	r := reader(t, Options{})
	path := pdftest.Save(t, "two.pdf", pdftest.Write(pdftest.Pages("", pdftest.Line(50, 500, "Hatching at 12 \\260C"), pdftest.Line(50, 500, "none")+"BT /F2 9 Tf 50 100 Td (Bold) Tj ET"), "/Info <</Title (Eggs)>>"))
	f, err := r.Read(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	if f.Engine != "pdfium" || len(f.Pages) != 2 {
		t.Fatalf("engine %q, %d pages", f.Engine, len(f.Pages))
	}
	first := f.Pages[0]
	if got := text(first); got != "Hatching at 12 °C" {
		t.Errorf("page 1 spells %q", got)
	}
	if first.Width != 400 || first.Height != 600 || first.Number != 1 {
		t.Errorf("page 1 is number %d, %v × %v", first.Number, first.Width, first.Height)
	}
	h := first.Chars[0]
	if h.Origin != 100 || h.Size != 12 || h.Left < 50 || h.Left > 52 || h.Top > 92 || h.Top < 90 || h.Weight != 400 || h.Flags != 0 {
		t.Errorf("first character %+v", h)
	}
	last := f.Pages[1].Chars[len(f.Pages[1].Chars)-1]
	if last.Weight != 700 || last.Size != 9 {
		t.Errorf("bold character %+v", last)
	}
}

func TestReadTurned(t *testing.T) {
	r := reader(t, Options{})
	for _, c := range []struct {
		name, entries, matrix string
		left, origin          float32
		flags                 pdf.Flag
	}{
		{"upright", "", "1 0 0 1 50 500", 50, 100, 0},
		{"page turned with its text", "/Rotate 90", "0 1 -1 0 100 50", 50, 100, 0},
		{"page on its head with its text", "/Rotate 180", "-1 0 0 -1 350 100", 50, 100, 0},
		{"page turned back with its text", "/Rotate 270", "0 -1 1 0 300 550", 50, 100, 0},
		{"text up the edge", "", "0 1 -1 0 50 100", 40, 500, pdf.Sideways},
		{"box not at the origin", "/CropBox [20 30 400 600]", "1 0 0 1 50 500", 30, 100, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := pdftest.Save(t, "turned.pdf", pdftest.Write(pdftest.Pages(c.entries, "BT /F1 12 Tf "+c.matrix+" Tm (Hatch) Tj ET"), ""))
			f, err := r.Read(t.Context(), path)
			if err != nil {
				t.Fatal(err)
			}
			got := f.Pages[0].Chars[0]
			if got.Left < c.left || got.Left > c.left+3 || got.Origin != c.origin || got.Flags != c.flags {
				t.Errorf("first character %+v, want left %v, baseline %v, flags %v", got, c.left, c.origin, c.flags)
			}
		})
	}
}

func TestReadFaults(t *testing.T) {
	r := reader(t, Options{})
	whole := pdftest.Write(pdftest.Pages("", pdftest.Line(50, 500, "x")), "")
	locked := pdftest.Write(append(pdftest.Pages("", pdftest.Line(50, 500, "x")), pdftest.Object{Dict: encryption(bytes.Repeat([]byte{0x7B}, 32))}), encrypted(7))
	for _, c := range []struct {
		name string
		data []byte
		want error
	}{
		{"empty.pdf", nil, pdf.ErrEmpty},
		{"text.pdf", []byte("The eggs hatched.\n"), pdf.ErrNotPDF},
		{"headless.pdf", []byte("%PDF-1.4\n"), pdf.ErrDamaged},
		{"torn.pdf", whole[:60], pdf.ErrDamaged},
		{"locked.pdf", locked, pdf.ErrProtected},
		{"pageless.pdf", pdftest.Write([]pdftest.Object{{Dict: "/Type /Catalog /Pages 2 0 R"}, {Dict: "/Type /Pages /Kids [] /Count 0"}}, ""), pdf.ErrNoPages},
		{"rootless.pdf", pdftest.Write([]pdftest.Object{{Dict: "/Type /Catalog /Pages 9 0 R"}}, ""), pdf.ErrNoPages},
		{"ciphered.pdf", pdftest.Write([]pdftest.Object{{Dict: "/Type /Catalog /Pages 9 0 R"}, {Dict: encryption(userEntry(t))}}, encrypted(2)), pdf.ErrCipher},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := pdftest.Save(t, c.name, c.data)
			_, err := r.Read(t.Context(), path)
			if !errors.Is(err, c.want) {
				t.Fatalf("got %v, want %v", err, c.want)
			}
			if !strings.HasPrefix(err.Error(), path+" ") {
				t.Errorf("%q does not begin with the path", err)
			}
		})
	}
	if _, err := r.Read(t.Context(), filepath.Join(t.TempDir(), "missing.pdf")); err == nil || !strings.Contains(err.Error(), "cannot be opened: no such file") {
		t.Errorf("missing file: %v", err)
	}
	if _, err := r.Read(t.Context(), pdftest.Save(t, "whole.pdf", whole)); err != nil {
		t.Errorf("after all that, a whole file: %v", err)
	}
}

// Encryption by RC4 with 40 bits (ISO 32000-1, 7.6.3).
var (
	ownerEntry = bytes.Repeat([]byte{0x6A}, 32)
	documentID = bytes.Repeat([]byte{0x11}, 16)
)

func encryption(user []byte) string {
	return fmt.Sprintf("/Filter /Standard /V 1 /R 2 /P -4 /O <%X> /U <%X>", ownerEntry, user)
}

// encrypted is what a trailer says of it, for the encryption in the given object.
func encrypted(object int) string {
	return fmt.Sprintf("/Encrypt %d 0 R /ID [<%X> <%X>]", object, documentID, documentID)
}

// userEntry returns the /U that fits no password at all (algorithms 2 and 4).
func userEntry(t *testing.T) []byte {
	t.Helper()
	padding, err := hex.DecodeString("28BF4E5E4E758A4164004E56FFFA01082E2E00B6D0683E802F0CA9FE6453697A")
	if err != nil {
		t.Fatal(err)
	}
	permissions := []byte{0xFC, 0xFF, 0xFF, 0xFF}
	key := md5.Sum(slices.Concat(padding, ownerEntry, permissions, documentID))
	cipher, err := rc4.NewCipher(key[:5])
	if err != nil {
		t.Fatal(err)
	}
	cipher.XORKeyStream(padding, padding)
	return padding
}

func TestReadTooSlow(t *testing.T) {
	r := reader(t, Options{Time: time.Millisecond, TimePerPage: time.Nanosecond})
	path := pdftest.Save(t, "bomb.pdf", pdftest.Bomb(t, 64<<20))
	if _, err := r.Read(t.Context(), path); !errors.Is(err, pdf.ErrSlow) {
		t.Errorf("got %v, want %v", err, pdf.ErrSlow)
	}
}

func TestReadBomb(t *testing.T) {
	r := reader(t, Options{Time: 20 * time.Second})
	path := pdftest.Save(t, "bomb.pdf", pdftest.Bomb(t, 800<<20))
	f, err := r.Read(t.Context(), path)
	switch {
	case err == nil && len(text(f.Pages[0])) == 0:
	case errors.Is(err, pdf.ErrMemory), errors.Is(err, pdf.ErrEngine), errors.Is(err, pdf.ErrDamaged):
	default:
		t.Errorf("got %v", err)
	}
	if _, err := r.Read(t.Context(), pdftest.Save(t, "whole.pdf", pdftest.Write(pdftest.Pages("", pdftest.Line(50, 500, "x")), ""))); err != nil {
		t.Errorf("after the bomb, a whole file: %v", err)
	}
}

func TestReadCancelled(t *testing.T) {
	r := reader(t, Options{})
	path := pdftest.Save(t, "bomb.pdf", pdftest.Bomb(t, 64<<20))
	if _, err := r.Read(t.Context(), pdftest.Save(t, "warm.pdf", pdftest.Write(pdftest.Pages("", ""), ""))); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Millisecond)
	defer cancel()
	if _, err := r.Read(ctx, path); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("got %v, want %v", err, context.DeadlineExceeded)
	}
}

func TestClosed(t *testing.T) {
	r := reader(t, Options{})
	path := pdftest.Save(t, "whole.pdf", pdftest.Write(pdftest.Pages("", pdftest.Line(50, 500, "x")), ""))
	if _, err := r.Read(t.Context(), path); err != nil {
		t.Fatal(err)
	}
	r.Close()
	if _, err := r.Read(t.Context(), path); !errors.Is(err, ErrClosed) {
		t.Errorf("got %v, want %v", err, ErrClosed)
	}
}

// TestCloseUnderWay: closing ends a call that is under way.
func TestCloseUnderWay(t *testing.T) {
	r := reader(t, Options{})
	if _, err := r.Read(t.Context(), pdftest.Save(t, "warm.pdf", pdftest.Write(pdftest.Pages("", ""), ""))); err != nil {
		t.Fatal(err)
	}
	path := pdftest.Save(t, "bomb.pdf", pdftest.Bomb(t, 64<<20))
	time.AfterFunc(20*time.Millisecond, func() { r.Close() })
	if _, err := r.Read(t.Context(), path); !errors.Is(err, ErrClosed) {
		t.Errorf("got %v, want %v", err, ErrClosed)
	}
}

// TestIdleProcessDies: a process that was killed while idle is no fault of the
// next file.
func TestIdleProcessDies(t *testing.T) {
	r := reader(t, Options{})
	path := pdftest.Save(t, "whole.pdf", pdftest.Write(pdftest.Pages("", pdftest.Line(50, 500, "x")), ""))
	if _, err := r.Read(t.Context(), path); err != nil {
		t.Fatal(err)
	}
	p := <-r.slots
	if err := p.cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	<-p.ended
	r.slots <- p
	if _, err := r.Read(t.Context(), path); err != nil {
		t.Error(err)
	}
}

func TestWitness(t *testing.T) {
	r := reader(t, Options{})
	path := pdftest.Save(t, "two.pdf", pdftest.Write(pdftest.Pages("", pdftest.Line(50, 500, "Second")+pdftest.Line(50, 520, "First 12 \\260C"), pdftest.Line(50, 500, "28.5")), ""))
	got, err := r.Witness(t.Context(), path, []int{1, 2, 7})
	if err != nil {
		t.Fatal(err)
	}
	if len(got) != 2 || got[1] != "First 12 °C\nSecond\n" || got[2] != "28.5\n" {
		t.Errorf("got %v", got)
	}
}

func TestPicture(t *testing.T) {
	r := reader(t, Options{})
	path := pdftest.Save(t, "one.pdf", pdftest.Write(pdftest.Pages("", pdftest.Line(50, 500, "Hatch")), ""))
	data, err := r.Picture(t.Context(), path, 1, 144)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if b := img.Bounds(); b.Dx() != 800 || b.Dy() != 1200 {
		t.Errorf("picture is %v", b)
	}
	dark := 0
	for y := 180; y < 202; y++ {
		for x := 100; x < 170; x++ {
			if v, _, _, _ := img.At(x, y).RGBA(); v < 0x8000 {
				dark++
			}
		}
	}
	if dark < 100 {
		t.Errorf("only %d dark points where the word stands", dark)
	}
	if _, err := r.Picture(t.Context(), path, 2, 144); err == nil || !strings.Contains(err.Error(), "no page 2") {
		t.Errorf("page 2: %v", err)
	}
}

func TestPictureShare(t *testing.T) {
	r := reader(t, Options{})
	objects := pdftest.Pages("/Resources <</XObject <</I 7 0 R>>>>", "q 400 0 0 300 0 300 cm /I Do Q")
	objects = append(objects, pdftest.Object{Dict: "/Type /XObject /Subtype /Image /Width 1 /Height 1 /ColorSpace /DeviceGray /BitsPerComponent 8", Stream: []byte{0x80}})
	objects[4].Dict = strings.Replace(objects[4].Dict, "/Resources <</Font <</F1 3 0 R /F2 4 0 R>>>>", "", 1)
	f, err := r.Read(t.Context(), pdftest.Save(t, "half.pdf", pdftest.Write(objects, "")))
	if err != nil {
		t.Fatal(err)
	}
	if got := f.Pages[0].Pictures; got < 0.47 || got > 0.53 {
		t.Errorf("pictures cover %v of the page, want half", got)
	}
}

package sheet

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"
)

// Draw draws a page of a PDF, counted from 1, as PNG.
type Draw func(ctx context.Context, path string, page, dpi int) ([]byte, error)

// Page names a page of a file by the file's content.
type Page struct {
	Hash string // SHA-256 of the file, hex
	Page int
	DPI  int
	// File finds the file with that content; it is asked where the page is not
	// drawn yet.
	File func(context.Context) (path string, err error)
}

// Picture is a page that was drawn.
type Picture struct {
	PNG           []byte
	Width, Height float64 // of the page, points
}

// Pictures keeps pages that were drawn in a folder of bounded size; the ones
// longest not looked at go first. Its methods may be called from several
// goroutines.
type Pictures struct {
	dir  string
	most int64
	draw Draw

	mu    sync.Mutex
	under map[string]*drawing // pages that are being drawn
}

type drawing struct {
	done chan struct{}
	png  []byte
	err  error
}

// NewPictures keeps up to most bytes of pictures in dir, which is made when it
// is needed.
func NewPictures(dir string, most int64, draw Draw) *Pictures {
	return &Pictures{dir: dir, most: most, draw: draw, under: map[string]*drawing{}}
}

// Get returns the picture of a page, drawing it where it is not kept. However
// many ask for one page, it is drawn once.
func (p *Pictures) Get(ctx context.Context, page Page) (Picture, error) {
	name := fmt.Sprintf("%s-%d-%d.png", page.Hash, page.Page, page.DPI)
	if data, err := os.ReadFile(filepath.Join(p.dir, name)); err == nil {
		if pic, err := measured(data, page.DPI); err == nil {
			now := time.Now()
			_ = os.Chtimes(filepath.Join(p.dir, name), now, now) // only the order of going depends on it
			return pic, nil
		}
	}
	data, err := p.once(ctx, name, page)
	if err != nil {
		return Picture{}, err
	}
	return measured(data, page.DPI)
}

// measured reads a picture's size off its head.
func measured(data []byte, dpi int) (Picture, error) {
	head, err := png.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return Picture{}, fmt.Errorf("the picture of a page is damaged: %w", err)
	}
	points := 72 / float64(dpi)
	return Picture{data, float64(head.Width) * points, float64(head.Height) * points}, nil
}

func (p *Pictures) once(ctx context.Context, name string, page Page) ([]byte, error) {
	p.mu.Lock()
	d, running := p.under[name]
	if !running {
		d = &drawing{done: make(chan struct{})}
		p.under[name] = d
	}
	p.mu.Unlock()
	if !running {
		// Whoever asked first may leave; the others still want the picture.
		go func() {
			d.png, d.err = p.fresh(context.WithoutCancel(ctx), name, page)
			p.mu.Lock()
			delete(p.under, name)
			p.mu.Unlock()
			close(d.done)
		}()
	}
	select {
	case <-d.done:
		return d.png, d.err
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

func (p *Pictures) fresh(ctx context.Context, name string, page Page) ([]byte, error) {
	path, err := page.File(ctx)
	if err != nil {
		return nil, err
	}
	data, err := p.draw(ctx, path, page.Page, page.DPI)
	if err != nil {
		return nil, err
	}
	// A picture that cannot be kept is shown all the same, and drawn again
	// when it is next asked for.
	_ = p.keep(name, data)
	return data, nil
}

// keep writes a picture whole or not at all and makes room where it is short.
func (p *Pictures) keep(name string, data []byte) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	if err := os.MkdirAll(p.dir, 0o700); err != nil {
		return err
	}
	f, err := os.CreateTemp(p.dir, "drawing-*")
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), filepath.Join(p.dir, name))
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return p.makeRoom()
}

// makeRoom removes the pictures longest not looked at.
func (p *Pictures) makeRoom() error {
	entries, err := os.ReadDir(p.dir)
	if err != nil {
		return err
	}
	type kept struct {
		name string
		size int64
		at   time.Time
	}
	var all []kept
	var sum int64
	for _, e := range entries {
		info, err := e.Info()
		if err != nil || !info.Mode().IsRegular() {
			continue
		}
		all = append(all, kept{e.Name(), info.Size(), info.ModTime()})
		sum += info.Size()
	}
	slices.SortFunc(all, func(a, b kept) int { return a.at.Compare(b.at) })
	var errs []error
	for _, k := range all {
		if sum <= p.most {
			break
		}
		errs = append(errs, os.Remove(filepath.Join(p.dir, k.name)))
		sum -= k.size
	}
	return errors.Join(errs...)
}

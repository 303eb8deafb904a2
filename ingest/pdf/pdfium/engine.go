// Package pdfium reads PDFs with pdfium, inside its WebAssembly machine: the
// characters of a page with their places, and its picture.
//
// It refuses to survive its machine: after a call that failed, [Engine.Err] is
// set and the engine is lost. Whoever reads files of strangers runs it in a
// process of its own.
package pdfium

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"time"

	"github.com/klippa-app/go-pdfium/webassembly"
	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/experimental"
)

// enginePages is how much memory the engine may have, in pages of 64 KiB. Text
// needs about 30 MB; a page picture at 300 dpi about 40 MB more.
const enginePages = 320 << 20 >> 16

// Engine is pdfium inside its machine. One caller at a time.
//
// go-pdfium's own calls cost a lock, a look-up and several allocations a
// character. Its exported machine functions are called directly instead, which
// is several times faster; go-pdfium still brings the engine and sets it up.
type Engine struct {
	ctx   context.Context
	mod   api.Module
	funcs map[string]*function
	buf   uint32 // scratch memory inside the machine
	err   error  // the first failed call; the engine is lost then
}

// bufSize is the length of the scratch memory.
const bufSize = 512

// function is one exported function with its own argument stack.
type function struct {
	api.Function
	stack [12]uint64
}

// Start brings pdfium up. Compiled code is kept in cacheDir; with "" every
// start compiles anew, which takes seconds.
func Start(cacheDir string) (*Engine, error) {
	config := wazero.NewRuntimeConfig().
		WithCoreFeatures(api.CoreFeaturesV2 | experimental.CoreFeaturesExceptionHandling).
		WithMemoryLimitPages(enginePages)
	if cacheDir != "" {
		if cache, err := wazero.NewCompilationCacheWithDir(cacheDir); err == nil {
			config = config.WithCompilationCache(cache)
		}
	}
	e := &Engine{funcs: map[string]*function{}}
	e.ctx = experimental.WithMemoryAllocator(context.Background(), allocator())
	pool, err := webassembly.Init(webassembly.Config{
		Context: experimental.WithFunctionListenerFactory(e.ctx, &catcher{&e.mod}),
		MinIdle: 1, MaxIdle: 1, MaxTotal: 1,
		RuntimeConfig: config,
		FSConfig:      wazero.NewFSConfig(), // the engine sees no files
		Stdout:        io.Discard,
		Stderr:        os.Stderr,
	})
	if err != nil {
		return nil, fmt.Errorf("starting pdfium: %w", err)
	}
	if _, err := pool.GetInstance(time.Minute); err != nil {
		return nil, fmt.Errorf("starting pdfium: %w", err)
	}
	if e.mod == nil {
		return nil, errors.New("starting pdfium: its machine was not seen")
	}
	e.buf = uint32(e.call("malloc", bufSize))
	if e.err != nil || e.buf == 0 {
		return nil, fmt.Errorf("starting pdfium: no memory: %w", errors.Join(e.err))
	}
	return e, nil
}

// catcher takes hold of the machine when its first exported function is
// called; go-pdfium does not hand it out.
type catcher struct{ mod *api.Module }

func (c *catcher) NewFunctionListener(def api.FunctionDefinition) experimental.FunctionListener {
	for _, name := range def.ExportNames() {
		if name == "FPDF_InitLibrary" {
			return c
		}
	}
	return nil
}

func (c *catcher) Before(_ context.Context, mod api.Module, _ api.FunctionDefinition, _ []uint64, _ experimental.StackIterator) {
	*c.mod = mod
}
func (c *catcher) After(context.Context, api.Module, api.FunctionDefinition, []uint64) {}
func (c *catcher) Abort(context.Context, api.Module, api.FunctionDefinition, error)    {}

// Err returns what the engine failed with, nil while it is sound.
func (e *Engine) Err() error { return e.err }

// call calls the exported function and returns its result, 0 once any call has
// failed.
func (e *Engine) call(name string, args ...uint64) uint64 {
	return e.invoke(e.function(name), args...)
}

func (e *Engine) function(name string) *function {
	f := e.funcs[name]
	if f == nil {
		f = &function{Function: e.mod.ExportedFunction(name)}
		if f.Function == nil && e.err == nil {
			e.err = fmt.Errorf("pdfium has no function %s", name)
		}
		e.funcs[name] = f
	}
	return f
}

func (e *Engine) invoke(f *function, args ...uint64) uint64 {
	if e.err != nil {
		return 0
	}
	copy(f.stack[:], args)
	if err := f.CallWithStack(e.ctx, f.stack[:]); err != nil {
		e.err = err
		return 0
	}
	return f.stack[0]
}

// at returns the address of the scratch memory's i-th double.
func (e *Engine) at(i uint32) uint64 { return uint64(e.buf + 8*i) }

// scratch returns n bytes of the scratch memory.
func (e *Engine) scratch(n uint32) []byte {
	b, ok := e.mod.Memory().Read(e.buf, n)
	if !ok {
		return make([]byte, n)
	}
	return b
}

func double(b []byte) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(b)) }
func single(b []byte) float64 {
	return float64(math.Float32frombits(binary.LittleEndian.Uint32(b)))
}

// Cached reports whether the cache holds compiled code. It may be of another
// version; then several processes compile at once, which is slower but no worse.
func Cached() bool {
	found, err := filepath.Glob(filepath.Join(CacheFolder(), "wazero-*", "*"))
	return err == nil && len(found) > 0
}

// CacheFolder returns a writable folder for compiled engine code, "" when
// there is none.
func CacheFolder() string {
	for _, base := range []func() (string, error){os.UserCacheDir, func() (string, error) { return os.TempDir(), nil }} {
		dir, err := base()
		if err != nil {
			continue
		}
		dir = filepath.Join(dir, "hatchlore")
		if os.MkdirAll(dir, 0o700) != nil {
			continue
		}
		probe, err := os.CreateTemp(dir, "probe-*")
		if err != nil {
			continue
		}
		probe.Close()
		os.Remove(probe.Name())
		return dir
	}
	return ""
}

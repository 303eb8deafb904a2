package main

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"hatchlore/ingest/pdf/process"
)

// update rewrites the golden files inside the scripts.
var update = flag.Bool("update", false, "rewrite the golden files of the scripts")

// TestMain lets this test binary stand in for the command, and for the reader
// processes that the command starts.
func TestMain(m *testing.M) {
	if process.Serving() {
		main()
		return
	}
	testscript.Main(m, map[string]func(){"hatchlore": main, "invent": invent})
}

// TestScripts runs one script a behaviour from testdata/script.
func TestScripts(t *testing.T) {
	sample, err := filepath.Abs(filepath.Join("..", "..", "corpus-sample", "pdf"))
	if err != nil {
		t.Fatal(err)
	}
	cache, err := os.UserCacheDir()
	if err != nil {
		cache = t.TempDir() // every reader process compiles its engine anew, then
	}
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("testdata", "script"),
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("SAMPLE", sample)
			env.Setenv("XDG_CACHE_HOME", cache)
			env.Setenv("XDG_DATA_HOME", filepath.Join(env.WorkDir, "data"))
			env.Setenv("HOME", env.WorkDir)
			env.Setenv("COLUMNS", "100")
			return nil
		},
	})
}

package reader

import (
	"os"
	"testing"

	"hatchlore/ingest/pdf/process/standin"
)

// TestMain lets this test binary stand in for the reader processes.
func TestMain(m *testing.M) {
	standin.ServeIfAsked()
	os.Exit(m.Run())
}

// newReader returns a Reader that is closed when the test ends.
func newReader(tb testing.TB, o Options) *Reader {
	tb.Helper()
	r, err := New(tb.Context(), o)
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() {
		if err := r.Close(); err != nil {
			tb.Error(err)
		}
	})
	return r
}

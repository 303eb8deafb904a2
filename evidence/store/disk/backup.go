package disk

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
)

// Backup writes a whole, compact copy of the library to path, which must not
// exist yet. Others may read and write meanwhile.
func (f *File) Backup(ctx context.Context, path string) error {
	if _, err := os.Lstat(path); err == nil {
		return fmt.Errorf("%s is there already: choose another name for the copy", path)
	}
	db, err := connect(filepath.Join(f.dir, FileName), "ro")
	if err != nil {
		return err
	}
	defer db.Close()
	if _, err := db.ExecContext(ctx, `VACUUM INTO ?`, path); err != nil {
		os.Remove(path) // a part of a copy is no copy
		return fmt.Errorf("copying the library to %s: %w", path, Explain(err))
	}
	return nil
}

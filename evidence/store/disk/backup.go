package disk

import (
	"context"
	"errors"
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
		err = Explain(err)
		if errors.Is(err, ErrReadOnly) { // the copy's folder is meant, not the library's
			return fmt.Errorf("%s cannot be written: name a file in a folder that is there and can be written", path)
		}
		return fmt.Errorf("copying the library to %s: %w", path, err)
	}
	return nil
}

package index

import (
	"context"
	"fmt"
	"path/filepath"

	"hatchlore/query/index/segment"
)

// Faults reads every file of the index in dir and lists those whose content
// is not what was written, each a line; none for a sound index. It finds the
// damage that opening an index does not touch. No process may write to the
// index meanwhile.
func Faults(ctx context.Context, dir string) ([]string, error) {
	files, err := filepath.Glob(filepath.Join(dir, "store", "*"+segment.Ending))
	if err != nil {
		return nil, err
	}
	var out []string
	for _, name := range files {
		if err := ctx.Err(); err != nil {
			return out, err
		}
		sound, err := segment.Sound(name)
		if err != nil {
			return out, fmt.Errorf("checking the search index: %w", err)
		}
		if !sound {
			out = append(out, fmt.Sprintf("%s: %v", filepath.Base(name), ErrDamaged))
		}
	}
	return out, nil
}

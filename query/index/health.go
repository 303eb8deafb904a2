package index

import (
	"bufio"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
)

// Faults reads every file of the index in dir and lists those whose content
// is not what was written, each a line; none for a sound index. It finds the
// damage that opening an index does not touch. No process may write to the
// index meanwhile.
func Faults(ctx context.Context, dir string) ([]string, error) {
	files, err := filepath.Glob(filepath.Join(dir, "store", "*.zap"))
	if err != nil {
		return nil, err
	}
	var out []string
	for _, name := range files {
		if err := ctx.Err(); err != nil {
			return out, err
		}
		sound, err := checksumHolds(name)
		if err != nil {
			return out, fmt.Errorf("checking the search index: %w", err)
		}
		if !sound {
			out = append(out, fmt.Sprintf("%s: %v", filepath.Base(name), ErrDamaged))
		}
	}
	return out, nil
}

// checksumHolds compares a segment with the CRC-32 (IEEE polynomial, big
// endian) of all before it that its last four bytes hold.
func checksumHolds(name string) (bool, error) {
	f, err := os.Open(name)
	if err != nil {
		return false, err
	}
	defer f.Close()
	st, err := f.Stat()
	if err != nil || st.Size() < 4 {
		return false, err
	}
	sum := crc32.NewIEEE()
	r := bufio.NewReaderSize(f, 1<<20)
	if _, err := io.CopyN(sum, r, st.Size()-4); err != nil {
		return false, err
	}
	var want [4]byte
	if _, err := io.ReadFull(r, want[:]); err != nil && !errors.Is(err, io.ErrUnexpectedEOF) {
		return false, err
	}
	return binary.BigEndian.Uint32(want[:]) == sum.Sum32(), nil
}

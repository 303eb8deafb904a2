// Package segment knows the files in which the search engine keeps the pages: whether
// one holds what was written, and how a copy of an index shares them.
//
// It refuses to write one: that is the engine's.
package segment

import (
	"bufio"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// Ending is that of their names.
const Ending = ".zap"

// Sound compares a segment with the CRC-32 (IEEE polynomial, big
// endian) of all before it that its last four bytes hold.
func Sound(name string) (bool, error) {
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

// Linked is the folder of a copy of an index, as the engine wants it: its segments
// are links to those copied from.
type Linked struct{ From, To string }

// GetWriter links the index's file of that name. What is no segment, the engine
// writes: the few small files that tell of the others.
func (l Linked) GetWriter(name string) (io.WriteCloser, error) {
	to := filepath.Join(l.To, name)
	if err := os.MkdirAll(filepath.Dir(to), 0o777); err != nil {
		return nil, err
	}
	if !strings.HasSuffix(name, Ending) {
		return os.Create(to)
	}
	return complete{}, os.Link(filepath.Join(l.From, name), to)
}

// complete stands for a linked file, which has its content already. The engine
// may copy the file that it was linked to. It must not write a segment from its
// memory, of which there is none unless a write failed.
type complete struct{}

func (complete) ReadFrom(io.Reader) (int64, error) { return 0, nil }
func (complete) Write([]byte) (int, error)         { return 0, errors.New("a segment is not on the disk yet") }
func (complete) Close() error                      { return nil }

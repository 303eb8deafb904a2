//go:build unix

package pdfium

import (
	"syscall"

	"github.com/tetratelabs/wazero/experimental"
)

// allocator reserves the machine's whole address range at once and opens it as
// it grows. Growing a Go slice would copy, and hold old and new side by side:
// more than twice the memory at the worst moment.
func allocator() experimental.MemoryAllocator {
	return experimental.MemoryAllocatorFunc(func(_, max uint64) experimental.LinearMemory {
		b, err := syscall.Mmap(-1, 0, int(max), syscall.PROT_NONE, syscall.MAP_PRIVATE|syscall.MAP_ANON)
		if err != nil {
			return &sliceMemory{}
		}
		return &mappedMemory{b: b}
	})
}

type mappedMemory struct{ b []byte }

func (m *mappedMemory) Reallocate(size uint64) []byte {
	if size > uint64(len(m.b)) {
		return nil
	}
	if syscall.Mprotect(m.b[:size], syscall.PROT_READ|syscall.PROT_WRITE) != nil {
		return nil
	}
	return m.b[:size:size]
}

func (m *mappedMemory) Free() {
	// Nothing can be done about a mapping that will not go.
	_ = syscall.Munmap(m.b)
	m.b = nil
}

// sliceMemory is the fallback where address space is short.
type sliceMemory struct{ b []byte }

func (m *sliceMemory) Reallocate(size uint64) []byte {
	if size > uint64(len(m.b)) {
		m.b = append(m.b, make([]byte, size-uint64(len(m.b)))...)
	}
	return m.b[:size]
}

func (m *sliceMemory) Free() { m.b = nil }

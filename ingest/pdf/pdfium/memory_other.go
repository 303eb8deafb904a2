//go:build !unix

package pdfium

import "github.com/tetratelabs/wazero/experimental"

// allocator leaves memory to the machine's own growth.
func allocator() experimental.MemoryAllocator { return nil }

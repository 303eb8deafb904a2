package surroundings

import (
	"syscall"
	"testing"
)

// SmallDisk returns a folder on a disk of the given size, such as 2m. Mounting it
// needs rights that few machines give.
func SmallDisk(t testing.TB, size string) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size="+size); err != nil {
		t.Skipf("skipped: a small disk cannot be mounted here: %v", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, syscall.MNT_DETACH); err != nil {
			t.Error(err)
		}
	})
	return dir
}

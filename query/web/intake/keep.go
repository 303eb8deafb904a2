package intake

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"hash"
	"io"
	"os"
	"path"
	"path/filepath"
	"strings"
	"unicode"

	"hatchlore/evidence/store"
)

// received is a file that came with a form: kept under path, or left with a
// reason.
type received struct {
	name  string // as it was called where it came from, made safe
	path  string
	fresh bool // path was made for it; else it lay there already
	why   string
}

// longestName bounds a file's name in bytes, under the 255 of common file
// systems.
const longestName = 120

// fileName makes a name that was sent safe to keep: no folder, no sign that a
// file system or a shell takes for something else, never hidden.
func fileName(sent string) string {
	name := strings.TrimPrefix(path.Base(path.Clean("/"+strings.ReplaceAll(sent, `\`, "/"))), "/")
	name = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsLetter(r), unicode.IsDigit(r), strings.ContainsRune("._-()+, ", r):
			return r
		}
		return '_'
	}, name)
	ext := filepath.Ext(name)
	stem := strings.Trim(strings.TrimSuffix(name, ext), ". ")
	for len(stem)+len(ext) > longestName && stem != "" {
		stem = string([]rune(stem)[:len([]rune(stem))-1])
	}
	if stem == "" {
		stem = "paper"
	}
	return stem + ext
}

// keepFile writes a file into folder under its name, or another where that is
// taken by other content. It is there whole or not at all.
func keepFile(folder, name string, from io.Reader) (received, error) {
	out := received{name: name}
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return out, cannotKeep(err)
	}
	f, err := os.CreateTemp(folder, ".arriving-*")
	if err != nil {
		return out, cannotKeep(err)
	}
	defer os.Remove(f.Name()) // gone already where all went well
	h := sha256.New()
	size, err := io.Copy(io.MultiWriter(f, h), io.LimitReader(from, maxPaper+1))
	closing := f.Close()
	switch {
	case err != nil:
		var p *os.PathError
		if errors.As(err, &p) {
			return out, cannotKeep(err)
		}
		return out, broken(err)
	case closing != nil:
		return out, cannotKeep(closing)
	case size > maxPaper:
		out.why = fmt.Sprintf("is larger than %d MB, too large for a paper; split it and send the parts", maxPaper>>20)
		return out, nil
	case size == 0:
		out.why = "is empty; copy it again from where it came"
		return out, nil
	}
	out.path, out.fresh, err = place(folder, name, f.Name(), h)
	return out, err
}

// place gives a written file its name; fresh is false where a file of that
// content lies under it already.
func place(folder, name, written string, content hash.Hash) (path string, fresh bool, err error) {
	ext := filepath.Ext(name)
	for n := 1; ; n++ {
		to := filepath.Join(folder, name)
		if n > 1 {
			to = filepath.Join(folder, fmt.Sprintf("%s-%d%s", strings.TrimSuffix(name, ext), n, ext))
		}
		// A link takes no name that is taken, whoever else writes there.
		err := os.Link(written, to)
		switch {
		case err == nil:
			return to, true, nil
		case !errors.Is(err, os.ErrExist):
			// Some file systems know no links.
			if _, stat := os.Lstat(to); errors.Is(stat, os.ErrNotExist) {
				return to, true, cannotKeep(os.Rename(written, to))
			}
			return "", false, cannotKeep(err)
		case sameContent(to, content):
			return to, false, nil
		}
	}
}

func sameContent(path string, content hash.Hash) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	h := sha256.New()
	_, err = io.Copy(h, f)
	return err == nil && string(h.Sum(nil)) == string(content.Sum(nil))
}

func cannotKeep(err error) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, os.ErrPermission):
		return store.ErrReadOnly
	}
	return fmt.Errorf("the paper cannot be kept in the library's folder: %w", err)
}

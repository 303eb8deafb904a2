package reader

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"hatchlore/ingest/textfile"
)

// formatOf returns the kind of paper by the file's name, "" for none.
func formatOf(path string) string {
	if extension(path) == ".pdf" {
		return "pdf"
	}
	return textfile.Format(path)
}

func extension(path string) string { return strings.ToLower(filepath.Ext(path)) }

// Kind says what a file that the keeper named is to a library.
type Kind string

// The kinds of files.
const (
	Paper      Kind = "paper"
	References Kind = "references" // records of papers
	Other      Kind = "other"      // neither, or no ordinary file
	OutOfReach Kind = "out of reach"
)

// Found is a file that the keeper named, directly or by its folder. Why tells,
// in words that follow the path, why nothing can be made of it.
type Found struct {
	Path string
	Kind Kind
	Why  string
}

// Find lists the files under the given paths in the order given, folders by
// name. Hidden files and folders inside a folder are passed over, links are
// followed for files only. A path that does not exist, or that may not be
// read, is listed with its reason: the others are still worth reading.
func Find(paths []string) []Found {
	var out []Found
	seen := map[string]bool{}
	add := func(f Found) {
		if key := filepath.Clean(f.Path); !seen[key] {
			seen[key] = true
			out = append(out, f)
		}
	}
	for _, p := range paths {
		info, err := os.Stat(p)
		switch {
		case err != nil:
			add(Found{p, OutOfReach, reason(err)})
		case info.IsDir():
			walk(p, add)
		default:
			add(look(p, info))
		}
	}
	return out
}

func walk(root string, add func(Found)) {
	// WalkDir's own error is always nil: the function given never returns one
	// but SkipDir.
	_ = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			add(Found{path, OutOfReach, reason(err)})
			if d != nil && d.IsDir() {
				return filepath.SkipDir
			}
		case path != root && strings.HasPrefix(d.Name(), "."):
			if d.IsDir() {
				return filepath.SkipDir
			}
		case !d.IsDir():
			info, err := os.Stat(path)
			if err != nil {
				add(Found{path, OutOfReach, reason(err)})
			} else if !info.IsDir() {
				add(look(path, info))
			}
		}
		return nil
	})
}

func look(path string, info fs.FileInfo) Found {
	switch {
	case !info.Mode().IsRegular():
		return Found{path, Other, "is no ordinary file"}
	case recordReaders[extension(path)] != nil:
		return Found{Path: path, Kind: References}
	case formatOf(path) == "":
		return Found{path, Other, "is no paper: papers are " + strings.Join(Extensions(), " ")}
	}
	return Found{Path: path, Kind: Paper}
}

// Extensions are the endings of the names of files that papers come in.
func Extensions() []string {
	es := append(textfile.Endings(), ".pdf")
	slices.Sort(es)
	return es
}

// reason puts a file error into words that follow a path.
func reason(err error) string {
	switch {
	case os.IsNotExist(err):
		return "does not exist"
	case os.IsPermission(err):
		return "may not be read by you"
	}
	var pe *fs.PathError
	if errors.As(err, &pe) {
		err = pe.Err
	}
	return fmt.Sprintf("cannot be read: %v", err)
}

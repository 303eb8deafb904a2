package reader

import (
	"fmt"
	"io"
	"os"

	"hatchlore/ingest/bibliography"
)

// recordReaders read files of references, by the endings of their names.
var recordReaders = map[string]func(io.Reader) ([]bibliography.Work, []bibliography.Problem, error){
	".bib": bibliography.ReadBibTeX, ".ris": bibliography.ReadRIS, ".json": bibliography.ReadCSL,
}

// Records reads a file of references: its records, and what of it is none. The
// error is in words that follow the path.
func Records(f Found) ([]bibliography.Work, []bibliography.Problem, error) {
	file, err := os.Open(f.Path)
	if err != nil {
		return nil, nil, fmt.Errorf("%s", reason(err))
	}
	defer file.Close()
	if info, err := file.Stat(); err == nil && info.Size() > maxText {
		return nil, nil, fmt.Errorf("is larger than %d MB; split it and ingest the parts", maxText>>20)
	}
	works, problems, err := recordReaders[extension(f.Path)](file)
	switch {
	case err != nil:
		return nil, nil, fmt.Errorf("cannot be read: %w", err)
	case len(works) == 0 && len(problems) > 0:
		return nil, nil, fmt.Errorf("holds no record that can be read: %s", problems[0])
	case len(works) == 0:
		return nil, nil, fmt.Errorf("holds no records of papers")
	}
	return works, problems, nil
}

package library

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// Place is where the keeper's library stands.
type Place struct {
	Folder string // named by the keeper; "" leaves it to the environment
}

// Use opens the library, hands it to use and closes it.
func (p *Place) Use(use func(*Library) error) error { return p.opened(false, use) }

// UseNew is Use that makes a library where there is none.
func (p *Place) UseNew(use func(*Library) error) error { return p.opened(true, use) }

// UseIfAny is Use that hands nil on where there is no library.
func (p *Place) UseIfAny(use func(*Library) error) error {
	err := p.Use(use)
	if errors.Is(err, ErrNone) {
		return use(nil)
	}
	return err
}

func (p *Place) opened(create bool, use func(*Library) error) (err error) {
	dir, err := p.dir()
	if err != nil {
		return err
	}
	lib, err := Open(dir, create)
	if err != nil {
		return err
	}
	defer func() {
		if e := lib.Close(); err == nil {
			err = e
		}
	}()
	return use(lib)
}

// dir is the folder named, else that of the environment, else one in the data
// folder.
func (p *Place) dir() (string, error) {
	if p.Folder != "" {
		return p.Folder, nil
	}
	if dir := os.Getenv("HATCHLORE_LIBRARY"); dir != "" {
		return dir, nil
	}
	dir, err := DataFolder()
	if err != nil {
		return "", err
	}
	return filepath.Join(dir, "library"), nil
}

// DataFolder is the user's own data folder by the XDG base directory
// specification.
func DataFolder() (string, error) {
	if dir := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "hatchlore"), nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", fmt.Errorf("no home folder is known; name the library with --library")
	}
	return filepath.Join(home, ".local", "share", "hatchlore"), nil
}

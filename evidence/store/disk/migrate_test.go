package disk

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Migrations are numbered without a gap, so that their count is the form of
// the library, and every table refuses values of another type.
func TestMigrations(t *testing.T) {
	names, err := migrations()
	if err != nil || len(names) == 0 {
		t.Fatalf("%v %v", names, err)
	}
	table := regexp.MustCompile(`(?s)CREATE TABLE (\w+) \(.*?\n\)([^;]*);`)
	for i, name := range names {
		if !strings.HasPrefix(filepath.Base(name), fmt.Sprintf("%04d_", i+1)) {
			t.Errorf("%s is not number %d", name, i+1)
		}
		b, err := migrationFiles.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range table.FindAllStringSubmatch(string(b), -1) {
			if !strings.Contains(m[2], "STRICT") {
				t.Errorf("%s: table %s is not STRICT", name, m[1])
			}
		}
	}
}

// A migration that fails leaves the library in the form it had.
func TestMigrationIsWholeOrNot(t *testing.T) {
	dir := t.TempDir()
	db, err := connect(filepath.Join(dir, FileName), "rwc")
	if err != nil {
		t.Fatal(err)
	}
	// An empty library of ours, with a name in the way of the last table.
	if _, err := db.Exec(fmt.Sprintf(`PRAGMA application_id = %d; CREATE TABLE decisions (x)`, applicationID)); err != nil {
		t.Fatal(err)
	}
	db.Close()
	if _, err := Open(dir); err == nil {
		t.Fatal("a library that does not fit was opened")
	}
	if db, err = connect(filepath.Join(dir, FileName), "ro"); err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	var tables, version int
	err = db.QueryRow(`SELECT (SELECT count(*) FROM sqlite_schema WHERE type = 'table'), (SELECT user_version FROM pragma_user_version)`).Scan(&tables, &version)
	if tables != 1 || version != 0 || err != nil {
		t.Errorf("%d tables, form %d, %v: want 1 table and form 0", tables, version, err)
	}
	if _, err := os.Stat(filepath.Join(dir, LockName)); err != nil {
		t.Error(err)
	}
}

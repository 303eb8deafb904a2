package disk

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"
	"slices"
)

// Migrations are numbered from 1 without a gap; the library's user_version is
// the number of the last one that was applied.
//
//go:embed migrations/*.sql
var migrationFiles embed.FS

// applicationID marks an SQLite file as a library of this program ("hlor").
const applicationID = 0x686c6f72

// migrations returns the names of the migrations in order.
func migrations() ([]string, error) {
	names, err := fs.Glob(migrationFiles, "migrations/*.sql")
	slices.Sort(names)
	return names, err
}

// Forms returns how many forms of the library there have been, which is the
// number of the present one.
func Forms() (int, error) {
	names, err := migrations()
	return len(names), err
}

// migrate brings the library to the form this program knows. It takes the
// writers' lock only when there is something to do.
func (f *File) migrate(ctx context.Context) error {
	names, err := migrations()
	if err != nil {
		return err
	}
	version, err := schemaVersion(ctx, f.write)
	if err != nil {
		return err
	}
	if err := fits(version, len(names)); err != nil || version == len(names) {
		return err
	}
	return f.Change(ctx, "bringing the library up to date", func(tx *sql.Tx) error {
		// Another process may have done it while this one waited.
		version, err := schemaVersion(ctx, tx)
		if err != nil {
			return err
		}
		if err := fits(version, len(names)); err != nil {
			return err
		}
		return applyFrom(ctx, tx, names, version)
	})
}

func applyFrom(ctx context.Context, tx *sql.Tx, names []string, version int) error {
	for n := version; n < len(names); n++ {
		text, err := migrationFiles.ReadFile(names[n])
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, string(text)); err != nil {
			return fmt.Errorf("migration %s: %w", names[n], err)
		}
	}
	_, err := tx.ExecContext(ctx, fmt.Sprintf("PRAGMA user_version = %d; PRAGMA application_id = %d", len(names), applicationID))
	return err
}

func fits(version, known int) error {
	if version > known {
		return fmt.Errorf("%w (its form is %d, this program knows %d)", ErrNewer, version, known)
	}
	return nil
}

// upToDate fails when a library that cannot be written has an older form.
func upToDate(ctx context.Context, q Querier) error {
	names, err := migrations()
	if err != nil {
		return err
	}
	version, err := schemaVersion(ctx, q)
	if err != nil {
		return err
	}
	if version < len(names) {
		return fmt.Errorf("%w (its older form must be brought up to date first)", ErrReadOnly)
	}
	return fits(version, len(names))
}

// Querier is what *sql.DB and *sql.Tx have in common for reading.
type Querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

// schemaVersion returns the library's form, 0 for an empty file, and
// [ErrForeign] for a database that some other program made.
func schemaVersion(ctx context.Context, q Querier) (int, error) {
	var app, version, tables int
	err := q.QueryRowContext(ctx, `SELECT
		(SELECT application_id FROM pragma_application_id),
		(SELECT user_version FROM pragma_user_version),
		(SELECT count(*) FROM sqlite_schema)`).Scan(&app, &version, &tables)
	if err != nil {
		return 0, err
	}
	if app != applicationID && (app != 0 || version != 0 || tables != 0) {
		return 0, ErrForeign
	}
	return version, nil
}

package store

import (
	"context"
	"database/sql"

	"hatchlore/evidence/store/disk"
)

// eachRow hands every row of an answer to take.
func eachRow(ctx context.Context, q disk.Querier, query string, args []any, take func(scan func(...any) error) error) error {
	rows, err := q.QueryContext(ctx, query, args...)
	if err != nil {
		return explain(err)
	}
	defer rows.Close()
	for rows.Next() {
		if err := take(rows.Scan); err != nil {
			return explain(err)
		}
	}
	return explain(rows.Err())
}

// column returns the texts of an answer of one column.
func column(ctx context.Context, q disk.Querier, query string, args ...any) ([]string, error) {
	var out []string
	err := eachRow(ctx, q, query, args, func(scan func(...any) error) error {
		var text string
		err := scan(&text)
		out = append(out, text)
		return err
	})
	return out, err
}

// anyRow reports whether a statement changed a row.
func anyRow(res sql.Result, err error) (bool, error) {
	if err != nil {
		return false, err
	}
	n, err := res.RowsAffected()
	return n > 0, err
}

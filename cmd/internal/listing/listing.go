// Package listing prints records for other programs: JSON, one JSON value a
// line, or CSV whose columns are the fields of the JSON form.
//
// It refuses to know what a record is about: how one is laid out for a person,
// whoever lists it says. No cell starts a formula in a spreadsheet.
package listing

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"strings"
)

// The formats by name.
const (
	Table = "table"
	JSONL = "jsonl"
	CSV   = "csv"
	JSON  = "json" // a plan or a result: one value
	HTML  = "html" // a sheet to print
)

// Emit prints records in the format asked for; table prints them for a person.
func Emit[T any](w io.Writer, format string, records []T, table func(io.Writer, []T) error) error {
	switch format {
	case JSONL:
		return WriteJSONL(w, records)
	case CSV:
		return WriteCSV(w, records)
	}
	return table(w, records)
}

// WriteJSONL prints records as JSON, one a line.
func WriteJSONL[T any](w io.Writer, records []T) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	for _, r := range records {
		if err := enc.Encode(r); err != nil {
			return err
		}
	}
	return nil
}

// WriteJSON prints one value, indented.
func WriteJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}

// WriteCSV prints the fields of the JSON form as columns, inner objects with a
// dot in the name and lists joined by "; ". Their names come first, also
// where there are no records.
func WriteCSV[T any](w io.Writer, records []T) error { return WriteCSVRows(w, records, true) }

// WriteCSVRows prints records, with the names of the columns before the first
// one where heads is set.
func WriteCSVRows[T any](w io.Writer, records []T, heads bool) error {
	out := csv.NewWriter(w)
	if heads {
		var like T
		if len(records) > 0 {
			like = records[0]
		}
		names, _, err := flatten(like)
		if err != nil {
			return err
		}
		if err := out.Write(names); err != nil {
			return err
		}
	}
	for _, r := range records {
		_, cells, err := flatten(r)
		if err != nil {
			return err
		}
		if err := out.Write(cells); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// flatten turns a record into column names and cells, in the order of its
// fields.
func flatten(record any) (names, cells []string, err error) {
	data, err := json.Marshal(record)
	if err != nil {
		return nil, nil, err
	}
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	if _, err := dec.Token(); err != nil {
		return nil, nil, err
	}
	err = flattenObject(dec, "", &names, &cells)
	return names, cells, err
}

func flattenObject(dec *json.Decoder, prefix string, names, cells *[]string) error {
	for dec.More() {
		key, err := dec.Token()
		if err != nil {
			return err
		}
		name := prefix + key.(string)
		var raw json.RawMessage
		if err := dec.Decode(&raw); err != nil {
			return err
		}
		if raw[0] == '{' {
			inner := json.NewDecoder(bytes.NewReader(raw))
			inner.UseNumber()
			if _, err := inner.Token(); err != nil {
				return err
			}
			if err := flattenObject(inner, name+".", names, cells); err != nil {
				return err
			}
			continue
		}
		*names = append(*names, name)
		*cells = append(*cells, safeCell(cellText(raw)))
	}
	return nil
}

// cellText prints one JSON value as a cell.
func cellText(raw json.RawMessage) string {
	var list []json.RawMessage
	if raw[0] == '[' && json.Unmarshal(raw, &list) == nil {
		parts := make([]string, len(list))
		for i, l := range list {
			parts[i] = cellText(l)
		}
		return strings.Join(parts, "; ")
	}
	var s string
	if json.Unmarshal(raw, &s) == nil && raw[0] == '"' {
		return s
	}
	if string(raw) == "null" {
		return ""
	}
	return string(raw)
}

// safeCell keeps a spreadsheet from taking a quoted word for a formula: text
// that would start one gets an apostrophe before it. Numbers stay numbers.
func safeCell(s string) string {
	if s == "" || !strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return s
	}
	var n json.Number
	if json.Unmarshal([]byte(s), &n) == nil {
		return s
	}
	return "'" + s
}

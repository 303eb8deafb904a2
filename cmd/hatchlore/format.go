package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
)

// formats are the ways in which a listing can be printed.
const (
	formatTable = "table"
	formatJSONL = "jsonl"
	formatCSV   = "csv"
	formatJSON  = "json" // a plan or a result: one value
)

// formatFlag adds --format to cmd and returns where its value will stand.
func formatFlag(cmd *cobra.Command, allowed ...string) *string {
	f := choice{value: allowed[0], allowed: allowed}
	cmd.Flags().Var(&f, "format", "print as "+strings.Join(allowed, ", "))
	return &f.value
}

// choice is a flag that takes one of a few words.
type choice struct {
	value   string
	allowed []string
}

func (c *choice) String() string { return c.value }
func (c *choice) Type() string   { return strings.Join(c.allowed, "|") }
func (c *choice) Set(s string) error {
	for _, a := range c.allowed {
		if s == a {
			c.value = s
			return nil
		}
	}
	return fmt.Errorf("takes %s", strings.Join(c.allowed, ", "))
}

// emit prints records in the format asked for; table prints them for a person.
func emit[T any](w io.Writer, format string, records []T, table func(io.Writer, []T) error) error {
	switch format {
	case formatJSONL:
		return emitJSONL(w, records)
	case formatCSV:
		return emitCSV(w, records)
	}
	return table(w, records)
}

func emitJSONL[T any](w io.Writer, records []T) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	for _, r := range records {
		if err := enc.Encode(r); err != nil {
			return err
		}
	}
	return nil
}

// emitJSON prints one value, indented.
func emitJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}

// emitCSV prints the fields of the JSON form as columns, inner objects with a
// dot in the name and lists joined by "; ". Their names come first, also
// where there are no records.
func emitCSV[T any](w io.Writer, records []T) error { return emitCSVRows(w, records, true) }

// emitCSVRows prints records, with the names of the columns before the first
// one where heads is set.
func emitCSVRows[T any](w io.Writer, records []T, heads bool) error {
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

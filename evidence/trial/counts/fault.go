package counts

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// faults is what is wrong with a sheet: the first few in the order of their lines,
// and how many there are. Its size and its message do not grow with the sheet.
type faults struct {
	told  []fault // by line, as many as mostTold
	count int
}

// fault is what is wrong with one line; line 0 is that of a look that came from no
// sheet at hand, or of what concerns the whole of it.
type fault struct {
	line int
	err  error
}

const (
	mostTold  = 8   // faults of a message: what a keeper mends at one go
	mostSaid  = 500 // bytes of a message, which a screen shows whole; its first fault is told even so
	mostFault = 300 // bytes of one fault
)

// add notes a fault of a line. It is put into words only where it will be told.
func (f *faults) add(line int, format string, args ...any) {
	f.count++
	at, _ := slices.BinarySearchFunc(f.told, line, func(o fault, line int) int {
		if o.line <= line {
			return -1 // of one line, the first noted stands first
		}
		return 1
	})
	if at == mostTold {
		return
	}
	f.told = slices.Insert(f.told[:min(len(f.told), mostTold-1)], at, fault{line, fmt.Errorf(format, args...)})
}

// err returns the faults as an error, nil for none.
func (f *faults) err() error {
	if f.count == 0 {
		return nil
	}
	return f
}

// Error tells the first faults, a line each, and how many more there are.
func (f *faults) Error() string {
	var b strings.Builder
	said := 0
	for _, o := range f.told {
		text := short(o.Error())
		if said > 0 && b.Len()+len(text) > mostSaid {
			break
		}
		if said > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(text)
		said++
	}
	if left := f.count - said; left > 0 {
		fmt.Fprintf(&b, "\nand %d more", left)
	}
	return b.String()
}

// Unwrap returns the faults that are told.
func (f *faults) Unwrap() []error {
	out := []error{}
	for _, o := range f.told {
		out = append(out, o.err)
	}
	return out
}

func (o fault) Error() string {
	if o.line == 0 {
		return o.err.Error()
	}
	return fmt.Sprintf("line %d: %v", o.line, o.err)
}

// short leaves out the middle of what is long, such as a cell that holds a page.
func short(s string) string {
	if len(s) <= mostFault {
		return s
	}
	return strings.ToValidUTF8(s[:mostFault/2], "") + " … " + strings.ToValidUTF8(s[len(s)-mostFault/2:], "")
}

// Together joins what was found wrong with one sheet in several readings of it into
// one error, by line; nil for nothing. What is no fault of a line stands first.
func Together(errs ...error) error {
	all := &faults{}
	for _, err := range errs {
		var f *faults
		switch {
		case err == nil:
		case errors.As(err, &f):
			for _, o := range f.told {
				all.add(o.line, "%w", o.err)
			}
			all.count += f.count - len(f.told)
		default:
			all.add(0, "%w", err)
		}
	}
	return all.err()
}

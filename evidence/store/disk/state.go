package disk

import "context"

// State returns a number that differs from an earlier one when the library was
// changed in between, by this process or another. What was computed of the
// library holds as long as the number stays. Numbers of two Files say nothing
// of each other.
func (f *File) State(ctx context.Context) (int64, error) {
	f.watching.Lock()
	defer f.watching.Unlock()
	if f.watch == nil {
		// SQLite counts what others changed since this one connection looked:
		// it must be the same one every time, and a number of another one must
		// not be taken for its own.
		conn, err := f.read.Conn(ctx)
		if err != nil {
			return 0, Explain(err)
		}
		f.watch = conn
		f.watches++
	}
	var version int64
	if err := f.watch.QueryRowContext(ctx, `PRAGMA data_version`).Scan(&version); err != nil {
		f.watch.Close()
		f.watch = nil
		return 0, Explain(err)
	}
	return f.watches<<40 | version, nil
}

func (f *File) stopWatching() error {
	f.watching.Lock()
	defer f.watching.Unlock()
	if f.watch == nil {
		return nil
	}
	err := f.watch.Close()
	f.watch = nil
	return err
}

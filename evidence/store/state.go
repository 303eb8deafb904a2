package store

import "context"

// State returns a number that differs from an earlier one when the library was
// changed in between, by this process or another. What was computed of the
// library holds as long as the number stays. Numbers of two Stores say nothing
// of each other.
func (s *Store) State(ctx context.Context) (int64, error) {
	s.watching.Lock()
	defer s.watching.Unlock()
	if s.watch == nil {
		// SQLite counts what others changed since this one connection looked:
		// it must be the same one every time, and a number of another one must
		// not be taken for its own.
		conn, err := s.read.Conn(ctx)
		if err != nil {
			return 0, explain(err)
		}
		s.watch = conn
		s.watches++
	}
	var version int64
	if err := s.watch.QueryRowContext(ctx, `PRAGMA data_version`).Scan(&version); err != nil {
		s.watch.Close()
		s.watch = nil
		return 0, explain(err)
	}
	return s.watches<<40 | version, nil
}

func (s *Store) stopWatching() error {
	s.watching.Lock()
	defer s.watching.Unlock()
	if s.watch == nil {
		return nil
	}
	err := s.watch.Close()
	s.watch = nil
	return err
}

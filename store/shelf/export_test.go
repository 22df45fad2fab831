package shelf

import "time"

// LookEvery changes how often the watches of a store look at the revision. Call it before Watch.
func (s *Store) LookEvery(d time.Duration) { s.look = d }

// WaitBeside changes how long a second connection is waited for. Call it before anything is read.
func (s *Store) WaitBeside(d time.Duration) { s.wait = d }

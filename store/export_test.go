package store

import "time"

// LookEvery changes how often the watches of a store look at the revision. Call it before Watch.
func (s *Store) LookEvery(d time.Duration) { s.look = d }

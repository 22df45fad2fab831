package shelf

import "time"

// WaitBeside changes how long a second connection is waited for. Call it before anything is read.
func (s *Store) WaitBeside(d time.Duration) { s.wait = d }

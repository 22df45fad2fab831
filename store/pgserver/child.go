package pgserver

import (
	"os"
	"time"
)

// quitPatience is how long a program may take between the crash exit and the kill.
const quitPatience = 5 * time.Second

// environment is that of the server programs: the caller's PG variables and locale would change
// what initdb makes.
func environment() []string {
	env := []string{"LC_ALL=" + locales[0], "TZ=UTC"}
	for _, name := range []string{"PATH", "LD_LIBRARY_PATH", "DYLD_LIBRARY_PATH", "TMPDIR"} {
		if value, ok := os.LookupEnv(name); ok {
			env = append(env, name+"="+value)
		}
	}
	return env
}

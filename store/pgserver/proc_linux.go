package pgserver

import (
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// socketPathLimit is the longest path of a Unix socket: sun_path without its closing zero, unix(7).
const socketPathLimit = 107

// locales to make a cluster with, the best first. Both sort by code point, on every machine alike.
var locales = []string{"C.UTF-8", "C"}

// serverPIDs lists the living server processes of a folder: those called postgres that work in its
// cluster. A zombie works nowhere.
func serverPIDs(f folder) []int {
	found, err := filepath.Glob("/proc/[0-9]*/cwd")
	if err != nil {
		panic(err) // only for a malformed pattern
	}
	var pids []int
	for _, link := range found {
		dir, err := os.Readlink(link)
		if err != nil || !slices.Contains([]string{f.cluster(), f.unfinished()}, dir) {
			continue // ended, somebody else's, or elsewhere
		}
		proc := filepath.Dir(link)
		name, err := os.ReadFile(filepath.Join(proc, "comm"))
		if err != nil || strings.TrimSpace(string(name)) != "postgres" {
			continue // a person's shell, say
		}
		if pid, err := strconv.Atoi(filepath.Base(proc)); err == nil {
			pids = append(pids, pid)
		}
	}
	return pids
}

//go:build !linux

package pgserver

import (
	"os/exec"
	"strconv"
	"strings"
)

// socketPathLimit is the longest path of a Unix socket on macOS and the BSDs, without its closing zero.
const socketPathLimit = 103

// locales to make a cluster with. Not every system here knows C.UTF-8.
var locales = []string{"C"}

// serverPIDs lists the living server processes of a folder as far as can be known without /proc: the
// one that its pid file names, when a process of that id is called postgres and is no zombie.
func serverPIDs(f folder) []int {
	pid := f.recordedPID()
	if pid == 0 {
		return nil
	}
	out, err := exec.Command("ps", "-p", strconv.Itoa(pid), "-o", "stat=,comm=").Output()
	if err != nil || !strings.Contains(string(out), "postgres") || strings.HasPrefix(string(out), "Z") {
		return nil
	}
	return []int{pid}
}

package pgserver

import "syscall"

// leaveOrphansUnreaped makes this process the one that orphans of its children fall to, as they fall
// to process 1 in a container, and it never reaps them: a killed server stays a zombie for ever.
func leaveOrphansUnreaped() {
	const setChildSubreaper = 36 // PR_SET_CHILD_SUBREAPER, prctl(2)
	if _, _, errno := syscall.RawSyscall6(syscall.SYS_PRCTL, setChildSubreaper, 1, 0, 0, 0, 0); errno != 0 {
		panic(errno)
	}
}

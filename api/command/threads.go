package command

import (
	"runtime"
	"sync"
)

// threadsPerCore is one to compute and one to read, refuse and answer. The runtime lets those who wait for their turn to
// compute follow each other on a thread, for up to 10 ms before it looks at the network again; the system lets threads that
// did less go first.
const threadsPerCore = 2

// moreThreads gives the runtime that many, and tells the cores: those of the machine or of its container, or what
// GOMAXPROCS says. It does so once in a process, or a service that is started again in one would double them each time.
var moreThreads = sync.OnceValue(func() (cores int) {
	cores = runtime.GOMAXPROCS(0)
	runtime.GOMAXPROCS(threadsPerCore * cores)
	return cores
})

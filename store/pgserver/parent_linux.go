package pgserver

import "syscall"

// signalWhenWeDie has the kernel send the child a signal when the thread that starts it ends.
func signalWhenWeDie(attr *syscall.SysProcAttr, signal syscall.Signal) { attr.Pdeathsig = signal }

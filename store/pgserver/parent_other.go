//go:build !linux

package pgserver

import "syscall"

// signalWhenWeDie can do nothing here: a server whose launcher is killed lives on until the next
// start takes the folder over and ends it.
func signalWhenWeDie(*syscall.SysProcAttr, syscall.Signal) {}

//go:build !linux

package db

import "syscall"

// giveUpSilence: other systems have no such option; probes notice a silent server.
func giveUpSilence(string, string, syscall.RawConn) error { return nil }

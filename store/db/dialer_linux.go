package db

import (
	"strings"
	"syscall"

	"golang.org/x/sys/unix"
)

// silence is how long, in milliseconds, a server may not acknowledge what was sent to it.
const silence = 15_000

func giveUpSilence(network, _ string, line syscall.RawConn) (err error) {
	if !strings.HasPrefix(network, "tcp") {
		return nil
	}
	if failed := line.Control(func(fd uintptr) {
		err = unix.SetsockoptInt(int(fd), unix.IPPROTO_TCP, unix.TCP_USER_TIMEOUT, silence)
	}); failed != nil {
		return failed
	}
	return err
}

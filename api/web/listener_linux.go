package web

import (
	"net"
	"os"

	"golang.org/x/sys/unix"
)

// connected stops a listener and returns the connections that wait to be accepted: nothing but a microsecond lies between
// finding that there is no further one and the end of listening.
func connected(l *net.TCPListener) (all []*net.TCPConn) {
	line, err := l.SyscallConn()
	if err != nil {
		return nil // it is closed
	}
	var ends []int
	_ = line.Control(func(fd uintptr) { // fails for a closed listener, which has none
		for {
			end, _, err := unix.Accept4(int(fd), unix.SOCK_NONBLOCK|unix.SOCK_CLOEXEC)
			if err != nil {
				break
			}
			ends = append(ends, end)
		}
		_ = unix.Shutdown(int(fd), unix.SHUT_RD) // it is closed next
	})
	for _, end := range ends {
		file := os.NewFile(uintptr(end), "")
		conn, err := net.FileConn(file)
		file.Close()
		if tcp, ok := conn.(*net.TCPConn); ok && err == nil {
			all = append(all, tcp)
		}
	}
	return all
}

package line

import (
	"net"
	"sync"
	"sync/atomic"
)

// pair is one connection that is carried: the end of who called, and the end at the server.
type pair struct {
	near, far net.Conn
	forgotten atomic.Bool
	gone      chan struct{}
	once      sync.Once
}

func (p *pair) close() {
	p.once.Do(func() { close(p.gone) })
	p.near.Close()
	p.far.Close()
}

// reset ends both ends with a reset instead of a farewell.
func (p *pair) reset() {
	for _, end := range []net.Conn{p.near, p.far} {
		if tcp, ok := end.(*net.TCPConn); ok {
			_ = tcp.SetLinger(0) // on a connection that is closed already there is nothing to set
		}
	}
	p.close()
}

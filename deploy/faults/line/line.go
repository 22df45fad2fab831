// Package line is a line to a server that can go wrong in the ways that networks do: it is cut, falls silent, is slow,
// resets connections, or forgets those that are open. It stays on the machine.
package line

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"net"
	"strings"
	"sync"
	"time"
)

// Line carries connections from an address of its own to a server.
type Line struct {
	network, server string
	address         string

	mu      sync.Mutex
	open    net.Listener // nil: cut
	pairs   map[*pair]struct{}
	trouble trouble
	eased   chan struct{} // closed, and made anew, when the trouble is another
}

// trouble is what goes wrong with everything that is carried.
type trouble struct {
	silent bool
	delay  time.Duration
	resets float64 // of the pieces that are carried, the share at which a connection is reset
}

// New opens a line to a server: tcp and host:port, or unix and the socket's path.
func New(network, server string) (*Line, error) {
	l := &Line{network: network, server: server, address: "127.0.0.1:0", pairs: map[*pair]struct{}{},
		eased: make(chan struct{})}
	return l, l.Mend()
}

// ToDatabase opens a line to the PostgreSQL that a configuration's host and port name.
func ToDatabase(host string, port uint16) (*Line, error) {
	if strings.HasPrefix(host, "/") {
		return New("unix", fmt.Sprintf("%s/.s.PGSQL.%d", host, port))
	}
	return New("tcp", net.JoinHostPort(host, fmt.Sprint(port)))
}

// Address is where the line begins.
func (l *Line) Address() string { return l.address }

// Port is the port of that.
func (l *Line) Port() string {
	_, port, _ := net.SplitHostPort(l.address) // is one
	return port
}

// Cut closes all connections and refuses further ones.
func (l *Line) Cut() {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.open != nil {
		l.open.Close()
		l.open = nil
	}
	for p := range l.pairs {
		p.close()
	}
}

// Mend makes the line a good one: it is open, and carries what comes.
func (l *Line) Mend() error {
	l.change(func(t *trouble) { *t = trouble{} })
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.open != nil {
		return nil
	}
	open, err := net.Listen("tcp", l.address)
	if err != nil {
		return fmt.Errorf("open the line: %w", err)
	}
	l.open, l.address = open, open.Addr().String()
	go l.serve(open)
	return nil
}

// Silence lets nothing through any more, without a word to either end. What was sent comes when the line is mended.
func (l *Line) Silence() { l.change(func(t *trouble) { t.silent = true }) }

// Delay holds back every piece for that time.
func (l *Line) Delay(d time.Duration) { l.change(func(t *trouble) { t.delay = d }) }

// ResetSome resets a connection at this share of the pieces that it carries.
func (l *Line) ResetSome(share float64) { l.change(func(t *trouble) { t.resets = share }) }

func (l *Line) change(how func(*trouble)) {
	l.mu.Lock()
	defer l.mu.Unlock()
	how(&l.trouble)
	close(l.eased)
	l.eased = make(chan struct{})
}

// Reset resets all connections.
func (l *Line) Reset() {
	l.mu.Lock()
	defer l.mu.Unlock()
	for p := range l.pairs {
		p.reset()
	}
}

// Forget leaves all connections open and carries nothing on them ever again; further ones are carried. So does a firewall
// that has dropped its state, or a host that lost its power.
func (l *Line) Forget() {
	l.mu.Lock()
	defer l.mu.Unlock()
	for p := range l.pairs {
		p.forgotten.Store(true)
	}
}

// Carried is how many connections are open.
func (l *Line) Carried() int {
	l.mu.Lock()
	defer l.mu.Unlock()
	return len(l.pairs)
}

func (l *Line) serve(open net.Listener) {
	for {
		near, err := open.Accept()
		if err != nil {
			return
		}
		go l.connect(near)
	}
}

func (l *Line) connect(near net.Conn) {
	if l.wait(nil, nil) != nil {
		near.Close()
		return
	}
	far, err := net.Dial(l.network, l.server)
	if err != nil {
		near.Close()
		return
	}
	p := &pair{near: near, far: far, gone: make(chan struct{})}
	l.mu.Lock()
	if l.open == nil {
		l.mu.Unlock()
		p.close()
		return
	}
	l.pairs[p] = struct{}{}
	l.mu.Unlock()
	var both sync.WaitGroup
	both.Go(func() { l.carry(p, near, far) })
	both.Go(func() { l.carry(p, far, near) })
	both.Wait()
	l.mu.Lock()
	delete(l.pairs, p)
	l.mu.Unlock()
}

var errGone = errors.New("the connection is gone")

// wait lasts as long as the line is silent, and the delay. It tells whether the connection is to be reset.
func (l *Line) wait(p *pair, reset *bool) error {
	var gone chan struct{}
	if p != nil {
		gone = p.gone
	}
	for {
		l.mu.Lock()
		now, eased := l.trouble, l.eased
		l.mu.Unlock()
		if now.silent || p != nil && p.forgotten.Load() {
			select {
			case <-eased:
				continue
			case <-gone:
				return errGone
			}
		}
		if reset != nil {
			*reset = rand.Float64() < now.resets //nolint:gosec // nobody guesses at it
		}
		time.Sleep(now.delay)
		return nil
	}
}

// carry ends with either of its ends, and ends the other: what could not be carried is the point.
func (l *Line) carry(p *pair, from, to net.Conn) {
	defer p.close()
	piece := make([]byte, 16<<10)
	for {
		n, err := from.Read(piece)
		if n > 0 {
			var reset bool
			if l.wait(p, &reset) != nil {
				return
			}
			if reset {
				p.reset()
				return
			}
			if _, err := to.Write(piece[:n]); err != nil {
				return
			}
		}
		if err != nil {
			return
		}
	}
}

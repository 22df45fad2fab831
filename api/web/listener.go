package web

import (
	"bytes"
	"crypto/rand"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"sync"

	"seamwright/service/fault"
)

// Listener gives problems to callers whose requests the HTTP library refuses by itself, in plain text, before anybody
// here sees them: a target or a method that cannot be read, headers that are too large. When it is closed it takes in first
// who has connected already, whom the system would else reset.
func Listener(l net.Listener) net.Listener {
	if tcp, ok := l.(*net.TCPListener); ok {
		return &listener{TCPListener: tcp}
	}
	return l
}

type listener struct {
	*net.TCPListener
	mu     sync.Mutex
	closed bool
	waited []net.Conn // those who had connected when it was closed
}

// Accept waits for the next connection.
func (l *listener) Accept() (net.Conn, error) {
	conn, err := l.AcceptTCP()
	if err == nil {
		return &connection{conn}, nil
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	switch {
	case len(l.waited) == 0 && l.closed:
		return nil, net.ErrClosed // whatever a socket says that does not listen any more
	case len(l.waited) == 0:
		return nil, err
	}
	next := l.waited[0]
	l.waited = l.waited[1:]
	return next, nil
}

// Close takes in who has connected, and closes.
func (l *listener) Close() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.closed = true
	for _, conn := range connected(l.TCPListener) {
		l.waited = append(l.waited, &connection{conn})
	}
	return l.TCPListener.Close()
}

type connection struct{ *net.TCPConn }

// refusedPlainly is how the library ends the headers of such a refusal, which it writes at once. No answer of ours has them:
// each has an X-Request-ID.
var refusedPlainly = []byte("\r\nContent-Type: text/plain; charset=utf-8\r\nConnection: close\r\n\r\n")

// Write writes a piece of an answer, or a problem instead of the library's refusal.
func (c *connection) Write(p []byte) (int, error) {
	line, _, _ := bytes.Cut(p, []byte("\r\n"))
	if !bytes.HasPrefix(p, []byte("HTTP/1.1 ")) || !bytes.HasPrefix(p[len(line):], refusedPlainly) {
		return c.TCPConn.Write(p)
	}
	if _, err := c.TCPConn.Write(refusedUnread(line, p[len(line)+len(refusedPlainly):])); err != nil {
		return 0, err
	}
	return len(p), nil
}

// refusedUnread is the answer to a request that could not be read, by the status line and the text of the library.
func refusedUnread(line, text []byte) []byte {
	var status int
	if _, err := fmt.Sscanf(string(line), "HTTP/1.1 %d", &status); err != nil {
		status = http.StatusBadRequest
	}
	p := Problem{Type: "about:blank", Title: http.StatusText(status), Status: status,
		Detail: "The request cannot be read: " + string(text) + ".", Errors: []Violation{}}
	if k := kinds[fault.Invalid]; status == k.status {
		p.Type, p.Title = "/problems/"+k.name, k.title
	}
	id := rand.Text()
	p.Instance = "#" + id
	raw, err := json.Marshal(p)
	if err != nil { // cannot be: the type has nothing that JSON cannot say
		return nil
	}
	return fmt.Appendf(nil, "HTTP/1.1 %d %s\r\nContent-Type: application/problem+json\r\nContent-Length: %d\r\n%s: %s\r\nConnection: close\r\n\r\n%s",
		status, http.StatusText(status), len(raw), requestID, id, raw)
}

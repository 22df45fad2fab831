package command

import (
	"context"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"sync"
	"time"

	"seamwright/api/web"
)

// unreadWithin is how long a connection may be open at the end without having sent a request.
const unreadWithin = time.Second

// served is a server at work on a listener.
type served struct {
	server   *http.Server
	listener net.Listener
	broken   chan error // why it takes no connections any more

	mu     sync.Mutex
	unread map[net.Conn]struct{} // of which no request was read yet
}

// serveOn lets a handler answer what comes to a listener.
func serveOn(listener net.Listener, handler http.Handler, log *slog.Logger) *served {
	s := &served{server: web.HTTPServer(handler, log), listener: web.Listener(listener), broken: make(chan error, 1),
		unread: map[net.Conn]struct{}{}}
	s.server.ConnState = s.note
	go func() { s.broken <- s.server.Serve(s.listener) }()
	return s
}

func (s *served) note(conn net.Conn, state http.ConnState) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if state == http.StateNew {
		s.unread[conn] = struct{}{}
	} else {
		delete(s.unread, conn)
	}
}

func (s *served) anyUnread() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return len(s.unread) > 0
}

// stop takes no connections any more and lets requests in flight finish. A server that shuts down reads a request and drops
// it: those who have connected are therefore read before.
func (s *served) stop(patience time.Duration, log *slog.Logger) int {
	log.Info("stopping; requests in flight may finish", "patience", patience)
	s.listener.Close()
	if err := <-s.broken; !errors.Is(err, net.ErrClosed) { // all who had connected are noted
		log.Error("the listener broke", "error", err)
	}
	for began := time.Now(); s.anyUnread() && time.Since(began) < unreadWithin; {
		time.Sleep(time.Millisecond)
	}
	soon, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	if err := s.server.Shutdown(soon); err != nil {
		log.Error("some requests did not finish in time", "error", err)
		return exitTrouble
	}
	return exitDone
}

package web

import "net/http"

// unsent is an answer that waits for the commit. Headers are those of the real one.
type unsent struct {
	http.ResponseWriter
	status int
	body   []byte
}

// WriteHeader keeps the status.
func (u *unsent) WriteHeader(status int) { u.status = status }

// Unwrap lets time limits of the connection through.
func (u *unsent) Unwrap() http.ResponseWriter { return u.ResponseWriter }

func (u *unsent) Write(p []byte) (int, error) {
	u.body = append(u.body, p...)
	return len(p), nil
}

package web

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestWhatCannotBeReadGetsAProblemToo(t *testing.T) {
	t.Parallel()
	plain, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	server := HTTPServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/plain; charset=utf-8")
		w.WriteHeader(http.StatusBadRequest)
		fmt.Fprint(w, "400 Bad Request")
	}), slog.New(slog.DiscardHandler))
	go func() { _ = server.Serve(Listener(plain)) }() // ends by being closed
	t.Cleanup(func() { require.NoError(t, server.Close()) })
	for name, c := range map[string]struct {
		sent   string
		status int
	}{
		"a target that is no text": {"GET /v1/quotes/%s HTTP/1.1\r\nHost: x\r\n\r\n", http.StatusBadRequest},
		"a method that is none":    {"G(T / HTTP/1.1\r\nHost: x\r\n\r\n", http.StatusBadRequest},
		"no host":                  {"GET / HTTP/1.1\r\n\r\n", http.StatusBadRequest},
		"two lengths": {"POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 3\r\nContent-Length: 4\r\n\r\nabcd",
			http.StatusBadRequest},
		"a version that is none": {"GET / HTTP/3.9\r\nHost: x\r\n\r\n", http.StatusHTTPVersionNotSupported},
		"headers that are too many": {"GET / HTTP/1.1\r\nHost: x\r\nA: " + strings.Repeat("a", 60<<10) + "\r\n\r\n",
			http.StatusRequestHeaderFieldsTooLarge},
		"a coding that is none": {"POST / HTTP/1.1\r\nHost: x\r\nTransfer-Encoding: zip\r\n\r\n", http.StatusNotImplemented},
	} {
		conn, err := net.Dial("tcp", plain.Addr().String())
		require.NoError(t, err)
		_, err = io.WriteString(conn, c.sent)
		require.NoError(t, err, name)
		answer, err := http.ReadResponse(bufio.NewReader(conn), nil)
		require.NoError(t, err, name)
		require.Equal(t, c.status, answer.StatusCode, name)
		require.Equal(t, "application/problem+json", answer.Header.Get("Content-Type"), name)
		require.NotEmpty(t, answer.Header.Get("X-Request-ID"), name)
		var p Problem
		require.NoError(t, json.NewDecoder(answer.Body).Decode(&p), name)
		require.Equal(t, c.status, p.Status, name)
		require.NotEmpty(t, p.Title)
		require.NoError(t, answer.Body.Close())
		require.NoError(t, conn.Close())
	}
	answer, err := http.Get("http://" + plain.Addr().String())
	require.NoError(t, err)
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	require.NoError(t, err)
	require.Equal(t, "400 Bad Request", string(text), "what a handler answers is its own")
}

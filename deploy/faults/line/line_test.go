package line

import (
	"io"
	"net"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// echo answers with what it gets.
func echo(t *testing.T) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	t.Cleanup(func() { l.Close() })
	go func() {
		for {
			conn, err := l.Accept()
			if err != nil {
				return
			}
			go func() { _, _ = io.Copy(conn, conn); conn.Close() }() // ends with the caller
		}
	}()
	return l.Addr().String()
}

func dial(t *testing.T, l *Line) net.Conn {
	t.Helper()
	conn, err := net.Dial("tcp", l.Address())
	require.NoError(t, err)
	t.Cleanup(func() { conn.Close() })
	return conn
}

// says sends a letter and tells whether it comes back within that time.
func says(t *testing.T, conn net.Conn, most time.Duration) bool {
	t.Helper()
	if _, err := conn.Write([]byte("a")); err != nil {
		return false
	}
	require.NoError(t, conn.SetReadDeadline(time.Now().Add(most)))
	_, err := conn.Read(make([]byte, 1))
	return err == nil
}

const (
	long  = 20 * time.Second // for what comes
	short = 100 * time.Millisecond
)

func TestALineGoesWrongAsItIsTold(t *testing.T) {
	t.Parallel()
	l, err := New("tcp", echo(t))
	require.NoError(t, err)
	t.Cleanup(l.Cut)
	old := dial(t, l)
	require.True(t, says(t, old, long))

	l.Silence()
	require.False(t, says(t, old, short))
	require.NoError(t, l.Mend())
	require.NoError(t, old.SetReadDeadline(time.Now().Add(10*time.Second)))
	_, err = old.Read(make([]byte, 1))
	require.NoError(t, err, "what was sent comes when it is mended")

	l.Forget()
	require.False(t, says(t, old, short))
	require.True(t, says(t, dial(t, l), long), "further ones are carried")

	l.ResetSome(1)
	require.False(t, says(t, dial(t, l), short))
	require.NoError(t, l.Mend())
	l.Cut()
	_, err = net.Dial("tcp", l.Address())
	require.Error(t, err)
	require.NoError(t, l.Mend())
	require.True(t, says(t, dial(t, l), long))
}

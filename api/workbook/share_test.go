package workbook_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/workbook"
	"seamwright/service/fault"
)

// A workbook takes its share of what the process holds while it comes in, and gives it back.
func TestWorkbooksShareTheirMemory(t *testing.T) {
	content := written(t, row(1, `<c r="A1"><v>1</v></c>`))
	broken := errors.New("broken off")
	refused := make(chan error)
	var senders []*io.PipeWriter
	for range 4 {
		r, w := io.Pipe()
		senders = append(senders, w)
		go func() {
			_, err := workbook.Open(context.Background(), r, 0, "")
			refused <- err
		}()
		_, err := w.Write(make([]byte, 31<<20+1)) // comes back when all of it was taken in; a 32nd MiB is begun
		require.NoError(t, err)
	}
	_, err := workbook.Open(context.Background(), bytes.NewReader(content), 0, "")
	var away *fault.Fault
	require.ErrorAs(t, err, &away)
	require.Equal(t, fault.Unavailable, away.Kind, "four senders hold all there is")
	for _, w := range senders {
		require.NoError(t, w.CloseWithError(broken))
		require.ErrorIs(t, <-refused, broken)
	}
	for range 200 {
		s, err := workbook.Open(context.Background(), bytes.NewReader(content), 0, "")
		require.NoError(t, err, "what was held is free again")
		s.Close()
		s.Close() // again, it does nothing
	}
}

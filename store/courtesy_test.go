package store

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestReadingGivesWayAfterAnAnswerOnly(t *testing.T) {
	t.Parallel()
	s := &Store{}
	require.False(t, s.traffic.busy(), "nobody was answered yet")
	s.traffic.last.Store(time.Now().Add(-time.Hour).UnixNano())
	require.False(t, s.traffic.busy())
	s.traffic.last.Store(time.Now().Add(time.Hour).UnixNano()) // however long the test takes
	require.True(t, s.traffic.busy())
	began := time.Now()
	giveWay(s.politely(context.Background()))
	require.GreaterOrEqual(t, time.Since(began), pause)
	before := s.traffic.last.Load()
	s.Answering()
	require.Less(t, s.traffic.last.Load(), before)
}

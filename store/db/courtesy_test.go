package db

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestReadingGivesWayAfterAnAnswerOnly(t *testing.T) {
	t.Parallel()
	d := &DB{}
	require.False(t, d.traffic.busy(), "nobody was answered yet")
	d.Answered(time.Now().Add(-time.Hour))
	require.False(t, d.traffic.busy())
	d.Answered(time.Now().Add(time.Hour)) // however long the test takes
	require.True(t, d.traffic.busy())
	began := time.Now()
	GiveWay(d.Politely(context.Background()))
	require.GreaterOrEqual(t, time.Since(began), pause)
	GiveWay(context.Background()) // nobody to give way to
	require.False(t, Busy(context.Background()))
	require.True(t, Busy(d.Politely(context.Background())))
}

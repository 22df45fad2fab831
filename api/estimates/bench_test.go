package estimates

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/api/wire"
	"seamwright/store/storetest"
)

// An answer as it is kept: what writing it and reading it back take.
func BenchmarkAnswer(b *testing.B) {
	order, err := os.ReadFile(filepath.Join("..", "..", "testdata", "requests", "l_desk.json"))
	require.NoError(b, err)
	est, err := Make(order, storetest.Demo(b), time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC), false)
	require.NoError(b, err)
	raw := Encode(est)
	b.Run("write", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			w := wire.NewWriter(est.Units)
			write(w, est)
			w.Free()
		}
	})
	b.Run("read", func(b *testing.B) {
		b.ReportAllocs()
		text := string(raw)
		for b.Loop() {
			if _, err := Read(text); err != nil {
				b.Fatal(err)
			}
		}
	})
}

package estimates

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/store/storetest"
	"seamwright/store/storetest/drawtest"
)

// Answers share the lists of their seams' hardware with the maker's memory, so that they are only read while they are written: the race
// detector sees whoever writes to them.
func TestAnswersAreWrittenWhileTheNextIsMade(t *testing.T) {
	t.Parallel()
	maker := estimate.NewMaker(storetest.Demo(t))
	var first []byte
	var written sync.WaitGroup
	for i := range 8 {
		est, err := maker.Make(t.Context(), drawtest.Desk())
		require.NoError(t, err)
		if i == 0 {
			first = Encode(est)
		}
		written.Go(func() {
			for range 4 {
				if string(Encode(est)) != string(first) {
					t.Error("another answer")
				}
			}
		})
	}
	written.Wait()
}

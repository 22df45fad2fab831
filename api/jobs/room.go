package jobs

import (
	"context"
	"sync"

	"seamwright/api/web"
	"seamwright/service/estimate"
)

// room keeps what finished jobs took.
type room struct {
	*web.Server
	kept     Kept
	learning sync.Mutex // one learns at a time: it takes no caller's turn to compute
}

// Kept is an offer's revision as it was answered, its number (0: the newest), and the experience of the maker that it was
// asked for.
type Kept func(ctx context.Context, id string, revision int) (number int, est *estimate.Estimate, experience string, err error)

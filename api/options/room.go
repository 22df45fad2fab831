package options

import (
	"context"

	"seamwright/api/web"
)

// room sets tops side by side.
type room struct {
	*web.Server
	stored Stored
}

// Stored is the request of an offer's revision, as JSON; 0: of the newest.
type Stored func(ctx context.Context, id string, revision int) (request string, err error)

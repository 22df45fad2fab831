// Package diagnoses compares what is measured at a top in use with what its estimate predicts.
package diagnoses

import (
	"context"

	"seamwright/api/web"
	"seamwright/service/estimate"
)

type room struct {
	*web.Server
	kept Kept
}

// Kept is the estimate of an offer as it was kept; revision 0 is the newest.
type Kept func(ctx context.Context, id string, revision int) (*estimate.Estimate, error)

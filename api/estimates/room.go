package estimates

import (
	"seamwright/api/web"
	"seamwright/service/estimate"
)

// room works out estimates and what is made of them.
type room struct {
	*web.Server
	kept    *estimate.Estimate // stands for every answer; nil: they are worked out
	batches *batchPlaces
}

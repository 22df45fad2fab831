package lists

import (
	"errors"

	"seamwright/api/web"
	"seamwright/service/fault"
	"seamwright/store/db"
)

// room takes in suppliers' price lists.
type room struct {
	*web.Server
	largest int64 // bytes of a list, as it is sent and when it is expanded
}

// refusedPrices gives faults about what cannot be their own kind of problem.
func refusedPrices(err error) error {
	if err == nil {
		return nil
	}
	var reused *db.KeyReusedError
	if errors.As(err, &reused) {
		return web.Refuse(web.KeyReused, reused.Detail)
	}
	if errors.Is(err, db.ErrKeyInUse) {
		return web.Refuse(web.KeyInUse, "A list with this Idempotency-Key is being worked on. Send it again in a moment.")
	}
	faults := fault.All(err)
	if web.KindOf(faults) != fault.Impossible {
		return err
	}
	return web.RefuseAll(web.UnfitPrices, faults)
}

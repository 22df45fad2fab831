package shelf

import (
	"golang.org/x/sync/semaphore"

	"seamwright/api/web"
)

// room shows and keeps the catalogue.
type room struct {
	*web.Server
	imports   *semaphore.Weighted // see importing
	exporting *semaphore.Weighted // see mostExports
}

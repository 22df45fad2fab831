package offers

import "seamwright/api/web"

// Room keeps offers.
type Room struct{ *web.Server }

package access

import (
	"errors"
	"fmt"
	"net/url"
)

// CheckOrigin says what is wrong with the text of an origin (RFC 6454): a scheme and a host, a port where it is not the
// scheme's own, and nothing after it. Only https, or http on this machine.
func CheckOrigin(origin string) error {
	u, err := url.Parse(origin)
	switch {
	case err != nil || u.Host == "" || u.Scheme+"://"+u.Host != origin:
		return fmt.Errorf("%q is no origin: write it like https://shop.example or https://shop.example:8443, without a path",
			origin)
	case u.Scheme == "https":
		return nil
	case u.Scheme == "http" && (u.Hostname() == "127.0.0.1" || u.Hostname() == "localhost" || u.Hostname() == "::1"):
		return nil
	}
	return errors.New("an origin is https, or http on 127.0.0.1 or localhost to try things")
}

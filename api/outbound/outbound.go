// Package outbound calls addresses that callers name, and keeps such calls out of the shop's own network.
package outbound

import (
	"errors"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"strings"
	"syscall"
	"time"
)

// ErrRefused says that an address is not one to be called.
var ErrRefused = errors.New("this address must not be called")

// RefusedError says why; it is an ErrRefused.
type RefusedError struct{ Why string }

func (e *RefusedError) Error() string { return ErrRefused.Error() + ": " + e.Why }

// Unwrap is ErrRefused.
func (*RefusedError) Unwrap() error { return ErrRefused }

func refuse(why string) error { return &RefusedError{why} }

// Policy says which addresses may be called: public ones, and those in Allow, which the shop names itself.
type Policy struct {
	Allow []netip.Prefix
}

// public6 is what IANA has given out as global unicast; all other IPv6 is refused.
var public6 = netip.MustParsePrefix("2000::/3")

// closed lists what is not public: the IANA special-purpose address registries (RFC 6890 and its updates), from memory.
var closed = prefixes(
	"0.0.0.0/8", "10.0.0.0/8", "100.64.0.0/10", "127.0.0.0/8", "169.254.0.0/16", "172.16.0.0/12",
	"192.0.0.0/24", "192.0.2.0/24", "192.31.196.0/24", "192.52.193.0/24", "192.88.99.0/24", "192.168.0.0/16",
	"192.175.48.0/24", "198.18.0.0/15", "198.51.100.0/24", "203.0.113.0/24", "224.0.0.0/4", "240.0.0.0/4",
	"168.63.129.16/32",           // a cloud's metadata at an otherwise public address
	"2001::/23", "2001:db8::/32", // protocol assignments with Teredo; documentation
	"2002::/16", "2620:4f:8000::/48", "3fff::/20", // 6to4; AS112; documentation
)

func prefixes(texts ...string) []netip.Prefix {
	var all []netip.Prefix
	for _, text := range texts {
		all = append(all, netip.MustParsePrefix(text))
	}
	return all
}

// Permits reports whether an address may be called. An IPv4 address written as IPv6 counts as IPv4.
func (p Policy) Permits(address netip.Addr) bool {
	if !address.IsValid() || address.Zone() != "" {
		return false
	}
	address = address.Unmap()
	if within(p.Allow, address) {
		return true
	}
	if address.Is6() && !public6.Contains(address) {
		return false
	}
	return !within(closed, address)
}

func within(list []netip.Prefix, address netip.Addr) bool {
	for _, prefix := range list {
		if prefix.Contains(address) {
			return true
		}
	}
	return false
}

// CheckURL says at once what is wrong with a URL; names are only looked up, and their addresses checked, at the call. Those of this
// machine alone need no looking up (RFC 6761, 6.3).
// Plain http is for shops that allow addresses of their own.
func (p Policy) CheckURL(text string) error {
	u, err := url.Parse(text)
	switch {
	case err != nil: // the parser's words repeat the URL, which may hold a secret
		return refuse("it is not a URL")
	case u.Scheme != "https" && (u.Scheme != "http" || len(p.Allow) == 0):
		return refuse("it must begin with https://")
	case u.Hostname() == "":
		return refuse("it names no host")
	case u.User != nil:
		return refuse("it must not hold a user or password")
	}
	host := strings.ToLower(strings.TrimSuffix(u.Hostname(), "."))
	if host == "localhost" || strings.HasSuffix(host, ".localhost") {
		if !p.Permits(loopback4) && !p.Permits(netip.IPv6Loopback()) {
			return refuse(host + " is not public")
		}
	}
	if address, err := netip.ParseAddr(u.Hostname()); err == nil && !p.Permits(address) {
		return refuse(address.String() + " is not public")
	}
	return nil
}

var loopback4 = netip.AddrFrom4([4]byte{127, 0, 0, 1})

// control runs after the name is looked up and before the connection is made, so that what is checked is what is
// called, whatever the name means a moment later.
func (p Policy) control(_, address string, _ syscall.RawConn) error {
	target, err := netip.ParseAddrPort(address)
	if err != nil {
		return refuse(err.Error())
	}
	if !p.Permits(target.Addr()) {
		return refuse(target.Addr().String() + " is not public")
	}
	return nil
}

// Client makes a client that calls permitted addresses only, follows no redirect and uses no proxy.
func (p Policy) Client(timeout time.Duration) *http.Client {
	dialer := &net.Dialer{Timeout: timeout, Control: p.control}
	return &http.Client{
		Timeout:       timeout,
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
		Transport: &http.Transport{
			DialContext:            dialer.DialContext,
			TLSHandshakeTimeout:    timeout,
			MaxResponseHeaderBytes: 16 << 10,
			DisableKeepAlives:      true, // each call is checked anew
		},
	}
}

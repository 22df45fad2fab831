package outbound

import (
	"net/http"
	"net/http/httptest"
	"net/netip"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var loopback = Policy{Allow: []netip.Prefix{netip.MustParsePrefix("127.0.0.1/32")}}

// OWASP API7:2023, server side request forgery.
func TestOWASP7OnlyPublicAddressesArePermitted(t *testing.T) {
	for text, want := range map[string]bool{
		"8.8.8.8": true, "100.63.255.255": true, "172.32.0.1": true, "2606:4700::1111": true, "::ffff:8.8.8.8": true,
		"0.0.0.0": false, "10.1.2.3": false, "100.64.0.1": false, "127.0.0.1": false, "127.9.9.9": false,
		"169.254.169.254": false, "172.31.255.255": false, "192.168.1.1": false, "192.0.2.1": false,
		"198.18.0.1": false, "198.51.100.7": false, "203.0.113.7": false, "224.0.0.1": false, "255.255.255.255": false,
		"168.63.129.16": false, "::": false, "::1": false, "::ffff:127.0.0.1": false, "::127.0.0.1": false,
		"64:ff9b::7f00:1": false, "64:ff9b:1::1": false, "2002:7f00:1::": false, "2001::1": false, "2001:db8::1": false,
		"3fff::1": false, "fd00:ec2::254": false, "fe80::1": false, "fe80::1%eth0": false, "ff02::1": false,
	} {
		assert.Equal(t, want, Policy{}.Permits(netip.MustParseAddr(text)), text)
	}
	assert.True(t, loopback.Permits(netip.MustParseAddr("127.0.0.1")))
	assert.False(t, loopback.Permits(netip.MustParseAddr("127.0.0.2")))
	assert.False(t, Policy{}.Permits(netip.Addr{}))
}

func TestOWASP7URLsAreRefusedWhenRegistered(t *testing.T) {
	for _, text := range []string{
		"http://example.com/", "ftp://example.com/", "https://", "https://u:p@example.com/", "https://10.0.0.1/",
		"https://[::1]/", "https://169.254.169.254/latest", "://", "",
		"https://localhost", "https://LocalHost:8443/hook", "https://localhost./", "https://hooks.localhost/", // RFC 6761, 6.3
	} {
		require.ErrorIs(t, Policy{}.CheckURL(text), ErrRefused, text)
	}
	require.NoError(t, Policy{}.CheckURL("https://example.com/hook"))
	require.NoError(t, Policy{}.CheckURL("https://localhost.example.com/"), "a name like any other")
	require.NoError(t, loopback.CheckURL("http://127.0.0.1:8000/hook"))
	require.NoError(t, loopback.CheckURL("http://localhost:8000/hook"))
}

func TestOWASP7ANameIsCheckedByTheAddressThatIsCalled(t *testing.T) {
	var calls atomic.Int32
	server := httptest.NewServer(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { calls.Add(1) }))
	defer server.Close()
	byName := strings.Replace(server.URL, "127.0.0.1", "localhost", 1)

	response, err := loopback.Client(5 * time.Second).Get(byName)
	require.NoError(t, err)
	require.NoError(t, response.Body.Close())
	require.EqualValues(t, 1, calls.Load())

	for _, url := range []string{server.URL, byName} {
		response, err := Policy{}.Client(5 * time.Second).Get(url)
		if response != nil {
			require.NoError(t, response.Body.Close())
		}
		require.ErrorIs(t, err, ErrRefused, url)
	}
	assert.EqualValues(t, 1, calls.Load(), "nothing more arrived")
}

func TestOWASP7RedirectsAreNotFollowed(t *testing.T) {
	var calls atomic.Int32
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		calls.Add(1)
		http.Redirect(w, r, "/elsewhere", http.StatusFound)
	}))
	defer server.Close()
	response, err := loopback.Client(5 * time.Second).Get(server.URL)
	require.NoError(t, err)
	require.NoError(t, response.Body.Close())
	assert.Equal(t, http.StatusFound, response.StatusCode)
	assert.EqualValues(t, 1, calls.Load())
}

// Package compose has no program: its tests hold the Compose files against the published schema and rules of Compose, and against
// the service that they start. It is a module of its own, as the service needs none of that.
package compose

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/compose-spec/compose-go/v2/cli"
	"github.com/compose-spec/compose-go/v2/types"
	"github.com/stretchr/testify/require"
)

const (
	oneInstance  = "../../docker-compose.yml"
	twoInstances = "../compose-two.yml"
)

// load reads a file as Compose does: against its schema, with what it extends put in and names resolved.
func load(t *testing.T, file string) *types.Project {
	t.Helper()
	options, err := cli.NewProjectOptions([]string{file}, cli.WithInterpolation(true))
	require.NoError(t, err)
	project, err := options.LoadProject(t.Context())
	require.NoError(t, err)
	return project
}

func service(t *testing.T, p *types.Project, name string) types.ServiceConfig {
	t.Helper()
	s, err := p.GetService(name)
	require.NoError(t, err)
	return s
}

func setting(t *testing.T, s types.ServiceConfig, name string) string {
	t.Helper()
	require.NotNil(t, s.Environment[name], "%s of %s", name, s.Name)
	return *s.Environment[name]
}

func TestNothingMayMoreThanItNeedsOrIsReachedFromOutside(t *testing.T) {
	for _, file := range []string{oneInstance, twoInstances} {
		p := load(t, file)
		require.NotEmpty(t, p.Services)
		for name, s := range p.Services {
			require.Contains(t, s.SecurityOpt, "no-new-privileges:true", name)
			require.NotNil(t, s.StopGracePeriod, name)
			for _, port := range s.Ports {
				require.Equal(t, "127.0.0.1", port.HostIP, name)
			}
			if name == "database" {
				continue
			}
			require.True(t, s.ReadOnly, name)
			require.Equal(t, []string{"ALL"}, s.CapDrop, name)
			require.Positive(t, s.MemLimit, name)
		}
		require.Empty(t, service(t, p, "database").Ports)
	}
}

func TestTheTwoDifferInNothing(t *testing.T) {
	p := load(t, twoInstances)
	one, two := service(t, p, "one"), service(t, p, "two")
	require.Equal(t, one.Image, two.Image)
	require.Equal(t, one.Environment, two.Environment)
	require.Equal(t, one.HealthCheck, two.HealthCheck)
	require.Empty(t, one.Ports, "only the proxy reaches them")
	require.Contains(t, two.DependsOn, "one")
	require.Equal(t, setting(t, service(t, load(t, oneInstance), "service"), "SEAMWRIGHT_LISTEN"), setting(t, one, "SEAMWRIGHT_LISTEN"))
	require.Equal(t, service(t, load(t, oneInstance), "database").Image, service(t, p, "database").Image)
	drain, err := time.ParseDuration(setting(t, one, "SEAMWRIGHT_DRAIN_DELAY"))
	require.NoError(t, err)
	const finish = 15 * time.Second // the default of --shutdown-timeout
	require.Greater(t, time.Duration(*one.StopGracePeriod), drain+finish)
	require.GreaterOrEqual(t, time.Duration(*service(t, p, "proxy").StopGracePeriod), time.Duration(*one.StopGracePeriod))
}

func TestTheProxyKnowsBothAndNoticesOneThatDrains(t *testing.T) {
	p := load(t, twoInstances)
	proxy := service(t, p, "proxy")
	_, port, _ := strings.Cut(setting(t, service(t, p, "one"), "SEAMWRIGHT_LISTEN"), ":")
	require.Equal(t, "one:"+port, setting(t, proxy, "INSTANCE_ONE"))
	require.Equal(t, "two:"+port, setting(t, proxy, "INSTANCE_TWO"))
	require.Equal(t, p.Networks["default"].Ipam.Config[0].Subnet, setting(t, service(t, p, "one"), "SEAMWRIGHT_TRUSTED_PROXIES"))
	require.Len(t, proxy.Volumes, 1)
	text, err := os.ReadFile(proxy.Volumes[0].Source)
	require.NoError(t, err)
	for _, line := range []string{`server one "${INSTANCE_ONE}"`, `server two "${INSTANCE_TWO}"`,
		"bind :" + strconv.Itoa(int(proxy.Ports[0].Target)) + "\n", "httpchk GET /readyz"} {
		require.Contains(t, string(text), line)
	}
	found := regexp.MustCompile(`check inter (\d+ms) .*fall (\d+)`).FindStringSubmatch(string(text))
	require.Len(t, found, 3)
	every, err := time.ParseDuration(found[1])
	require.NoError(t, err)
	fall, err := strconv.Atoi(found[2])
	require.NoError(t, err)
	drain, err := time.ParseDuration(setting(t, service(t, p, "one"), "SEAMWRIGHT_DRAIN_DELAY"))
	require.NoError(t, err)
	require.LessOrEqual(t, 2*every*time.Duration(fall), drain, "one check may be late")
}

// The settings are those of the program as it is, and both instances together allow a key what one does by default.
func TestSettingsAreThoseOfTheProgram(t *testing.T) {
	program := filepath.Join(t.TempDir(), "seamwright")
	out, err := exec.Command("go", "build", "-C", "../..", "-o", program, ".").CombinedOutput()
	require.NoError(t, err, "%s", out)
	help, err := exec.Command(program, "--help").CombinedOutput()
	require.NoError(t, err)
	for _, file := range []string{oneInstance, twoInstances} {
		for name, s := range load(t, file).Services {
			for variable := range s.Environment {
				if strings.HasPrefix(variable, "SEAMWRIGHT_") || variable == "DATABASE_URL" {
					require.Contains(t, string(help), "["+variable+"]", name)
				}
			}
		}
	}
	one := service(t, load(t, twoInstances), "one")
	for _, variable := range []string{"SEAMWRIGHT_KEY_LIMIT", "SEAMWRIGHT_FORM_LIMIT"} {
		found := regexp.MustCompile(`\(default (\d+)\) \[` + variable + `\]`).FindSubmatch(help)
		require.Len(t, found, 2, variable)
		usual, err := strconv.Atoi(string(found[1]))
		require.NoError(t, err)
		require.Equal(t, strconv.Itoa(usual/2), setting(t, one, variable))
	}
}

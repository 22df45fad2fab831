// Package kubernetes has no program: its tests hold the manifests beside them against the types of Kubernetes' API, against
// each other, and against the service that they start. It is a module of its own, as the service needs none of these types.
package kubernetes

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	appsv1 "k8s.io/api/apps/v1"
	autoscalingv2 "k8s.io/api/autoscaling/v2"
	batchv1 "k8s.io/api/batch/v1"
	corev1 "k8s.io/api/core/v1"
	networkingv1 "k8s.io/api/networking/v1"
	policyv1 "k8s.io/api/policy/v1"
	metav1 "k8s.io/apimachinery/pkg/apis/meta/v1"
	"k8s.io/apimachinery/pkg/util/intstr"
	"sigs.k8s.io/yaml"
)

// manifests are all documents of the folder, by kind and name.
type manifests struct {
	deployment appsv1.Deployment
	service    corev1.Service
	budget     policyv1.PodDisruptionBudget
	scaler     autoscalingv2.HorizontalPodAutoscaler
	jobs       map[string]batchv1.Job
	nightly    map[string]batchv1.CronJob
	policies   map[string]networkingv1.NetworkPolicy
	claims     map[string]corev1.PersistentVolumeClaim
}

// read decodes every document strictly: a field that the API does not know, or one that stands twice, fails.
func read(t *testing.T) *manifests {
	t.Helper()
	m := &manifests{jobs: map[string]batchv1.Job{}, nightly: map[string]batchv1.CronJob{},
		policies: map[string]networkingv1.NetworkPolicy{}, claims: map[string]corev1.PersistentVolumeClaim{}}
	seen := map[string]bool{}
	for _, d := range documents(t) {
		name := m.take(t, d.kind, d.text)
		require.NotEmpty(t, name, d.file)
		id := d.kind + " " + name
		require.False(t, seen[id], "%s stands twice", id)
		seen[id] = true
	}
	return m
}

// document is one manifest as it stands in its file.
type document struct {
	file, kind string // the kind as "apps/v1 Deployment"
	text       []byte
}

// documents are all manifests of the folder.
func documents(t *testing.T) (all []document) {
	t.Helper()
	files, err := filepath.Glob("*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, one := range regexp.MustCompile(`(?m)^---$`).Split(string(text), -1) {
			var kind metav1.TypeMeta
			require.NoError(t, yaml.Unmarshal([]byte(one), &kind), file)
			all = append(all, document{file, kind.APIVersion + " " + kind.Kind, []byte(one)})
		}
	}
	return all
}

// take decodes one document into its place, and returns its name.
func (m *manifests) take(t *testing.T, kind string, document []byte) string {
	t.Helper()
	strictly := func(into any) { require.NoError(t, yaml.UnmarshalStrict(document, into), kind) }
	switch kind {
	case "apps/v1 Deployment":
		strictly(&m.deployment)
		return m.deployment.Name
	case "v1 Service":
		strictly(&m.service)
		return m.service.Name
	case "policy/v1 PodDisruptionBudget":
		strictly(&m.budget)
		return m.budget.Name
	case "autoscaling/v2 HorizontalPodAutoscaler":
		strictly(&m.scaler)
		return m.scaler.Name
	case "batch/v1 Job":
		var job batchv1.Job
		strictly(&job)
		m.jobs[job.Name] = job
		return job.Name
	case "batch/v1 CronJob":
		var job batchv1.CronJob
		strictly(&job)
		m.nightly[job.Name] = job
		return job.Name
	case "networking.k8s.io/v1 NetworkPolicy":
		var policy networkingv1.NetworkPolicy
		strictly(&policy)
		m.policies[policy.Name] = policy
		return policy.Name
	case "v1 PersistentVolumeClaim":
		var claim corev1.PersistentVolumeClaim
		strictly(&claim)
		m.claims[claim.Name] = claim
		return claim.Name
	}
	t.Fatalf("no test knows %s", kind)
	return ""
}

// pods are the templates of all pods, by the name of what makes them.
func (m *manifests) pods() map[string]corev1.PodTemplateSpec {
	pods := map[string]corev1.PodTemplateSpec{m.deployment.Name: m.deployment.Spec.Template}
	for name, job := range m.jobs {
		pods[name] = job.Spec.Template
	}
	for name, job := range m.nightly {
		pods[name] = job.Spec.JobTemplate.Spec.Template
	}
	return pods
}

func (m *manifests) serving() corev1.Container { return m.deployment.Spec.Template.Spec.Containers[0] }

// argument is the value of a flag of the service.
func (m *manifests) argument(t *testing.T, name string) string {
	t.Helper()
	for _, arg := range m.serving().Args {
		if value, found := strings.CutPrefix(arg, "--"+name+"="); found {
			return value
		}
	}
	t.Fatalf("the service is started without --%s", name)
	return ""
}

func TestEverythingThatIsNeededIsThere(t *testing.T) {
	m := read(t)
	require.Len(t, m.pods(), 4)
	for _, name := range []string{m.deployment.Name, m.service.Name, m.budget.Name, m.scaler.Name} {
		require.Equal(t, "seamwright", name)
	}
	require.Contains(t, m.jobs, "seamwright-migrate")
	require.Contains(t, m.nightly, "seamwright-prices-demo")
	require.Contains(t, m.nightly, "seamwright-backup")
	require.Len(t, m.policies, 2)
}

func TestSelectorsMeetTheServiceAndNothingElse(t *testing.T) {
	m := read(t)
	for what, selector := range map[string]map[string]string{
		"deployment":  m.deployment.Spec.Selector.MatchLabels,
		"service":     m.service.Spec.Selector,
		"budget":      m.budget.Spec.Selector.MatchLabels,
		"its network": m.policies["seamwright-service"].Spec.PodSelector.MatchLabels,
		"spread":      m.deployment.Spec.Template.Spec.TopologySpreadConstraints[0].LabelSelector.MatchLabels,
	} {
		for name, pod := range m.pods() {
			require.Equal(t, name == m.deployment.Name, meets(selector, pod.Labels), "%s of %s", what, name)
		}
	}
	for name, pod := range m.pods() {
		require.True(t, meets(m.policies["seamwright"].Spec.PodSelector.MatchLabels, pod.Labels), "no policy holds %s", name)
	}
	target := m.scaler.Spec.ScaleTargetRef
	require.Equal(t, []string{m.deployment.APIVersion, m.deployment.Kind, m.deployment.Name},
		[]string{target.APIVersion, target.Kind, target.Name})
	require.Nil(t, m.deployment.Spec.Replicas, "the autoscaler's number would be undone by every apply")
}

func meets(selector, labels map[string]string) bool {
	for name, value := range selector {
		if labels[name] != value {
			return false
		}
	}
	return len(selector) > 0
}

func TestPortsAreThoseThatTheServiceListensOn(t *testing.T) {
	m := read(t)
	listens := map[string]string{}
	for _, port := range m.serving().Ports {
		listens[port.Name] = fmt.Sprintf("0.0.0.0:%d", port.ContainerPort)
	}
	require.Equal(t, map[string]string{"http": m.argument(t, "listen"), "metrics": m.argument(t, "metrics-listen")}, listens)
	var named []intstr.IntOrString
	for _, port := range m.service.Spec.Ports {
		named = append(named, port.TargetPort)
	}
	for _, from := range m.policies["seamwright-service"].Spec.Ingress {
		require.NotEmpty(t, from.From)
		for _, port := range from.Ports {
			named = append(named, *port.Port)
		}
	}
	named = append(named, m.serving().LivenessProbe.HTTPGet.Port, m.serving().ReadinessProbe.HTTPGet.Port)
	for _, port := range named {
		require.Contains(t, listens, port.String())
	}
	require.Equal(t, "/healthz", m.serving().LivenessProbe.HTTPGet.Path)
	require.Equal(t, "/readyz", m.serving().ReadinessProbe.HTTPGet.Path)
}

func TestAPodThatGoesIsLeftAloneBeforeItEnds(t *testing.T) {
	m := read(t)
	drain, err := time.ParseDuration(m.argument(t, "drain-delay"))
	require.NoError(t, err)
	finish, err := time.ParseDuration(m.argument(t, "shutdown-timeout"))
	require.NoError(t, err)
	ready := m.serving().ReadinessProbe
	require.Less(t, time.Duration(ready.PeriodSeconds*ready.FailureThreshold)*time.Second, drain)
	grace := time.Duration(*m.deployment.Spec.Template.Spec.TerminationGracePeriodSeconds) * time.Second
	require.GreaterOrEqual(t, grace, drain+finish+5*time.Second)
	rolling := m.deployment.Spec.Strategy.RollingUpdate
	require.Zero(t, rolling.MaxUnavailable.IntValue())
	require.Positive(t, rolling.MaxSurge.IntValue())
	require.Greater(t, int(*m.scaler.Spec.MinReplicas), m.budget.Spec.MaxUnavailable.IntValue())
}

func TestNoPodMayMoreThanItNeeds(t *testing.T) {
	for name, pod := range read(t).pods() {
		t.Run(name, func(t *testing.T) {
			require.False(t, *pod.Spec.AutomountServiceAccountToken)
			require.False(t, *pod.Spec.EnableServiceLinks, "SEAMWRIGHT_PORT would look like a setting")
			require.True(t, *pod.Spec.SecurityContext.RunAsNonRoot)
			require.Equal(t, corev1.SeccompProfileTypeRuntimeDefault, pod.Spec.SecurityContext.SeccompProfile.Type)
			mounted := map[string]bool{}
			for _, volume := range pod.Spec.Volumes {
				mounted[volume.Name] = false
			}
			require.Len(t, pod.Spec.Containers, 1)
			for _, c := range pod.Spec.Containers {
				require.False(t, *c.SecurityContext.AllowPrivilegeEscalation)
				require.True(t, *c.SecurityContext.ReadOnlyRootFilesystem)
				require.Equal(t, []corev1.Capability{"ALL"}, c.SecurityContext.Capabilities.Drop)
				require.False(t, c.Resources.Requests.Cpu().IsZero())
				require.False(t, c.Resources.Requests.Memory().IsZero())
				require.Positive(t, c.Resources.Limits.Memory().Cmp(*c.Resources.Requests.Memory()))
				for _, mount := range c.VolumeMounts {
					require.Contains(t, mounted, mount.Name)
					mounted[mount.Name] = true
				}
			}
			for volume, used := range mounted {
				require.True(t, used, "nothing mounts %s", volume)
			}
		})
	}
}

func TestAllTakeTheSameSecretAndImage(t *testing.T) {
	m := read(t)
	images := map[string]bool{}
	for name, pod := range m.pods() {
		c := pod.Spec.Containers[0]
		at := slices.IndexFunc(c.Env, func(e corev1.EnvVar) bool { return e.Name == "DATABASE_URL" })
		require.GreaterOrEqual(t, at, 0, name)
		require.Equal(t, "seamwright database-url", c.Env[at].ValueFrom.SecretKeyRef.Name+" "+c.Env[at].ValueFrom.SecretKeyRef.Key)
		if name != "seamwright-backup" {
			images[c.Image] = true
		}
	}
	require.Len(t, images, 1, "%v", images)
	claim := m.nightly["seamwright-backup"].Spec.JobTemplate.Spec.Template.Spec.Volumes[0].PersistentVolumeClaim.ClaimName
	require.Contains(t, m.claims, claim)
	compose, err := os.ReadFile("../../docker-compose.yml")
	require.NoError(t, err)
	require.Contains(t, string(compose), "image: "+m.pods()["seamwright-backup"].Spec.Containers[0].Image+"\n")
}

func TestJobsThatCannotGetBetterAreNotTriedAgain(t *testing.T) {
	m := read(t)
	specs := map[string]batchv1.JobSpec{"seamwright-migrate": m.jobs["seamwright-migrate"].Spec}
	for name, job := range m.nightly {
		specs[name] = job.Spec.JobTemplate.Spec
		require.Equal(t, batchv1.ForbidConcurrent, job.Spec.ConcurrencyPolicy)
		require.Equal(t, "Etc/UTC", *job.Spec.TimeZone)
	}
	for name, spec := range specs {
		require.Equal(t, corev1.RestartPolicyNever, spec.Template.Spec.RestartPolicy, name)
		require.Positive(t, *spec.ActiveDeadlineSeconds, name)
		if spec.PodFailurePolicy == nil {
			continue
		}
		for _, rule := range spec.PodFailurePolicy.Rules {
			require.Equal(t, spec.Template.Spec.Containers[0].Name, *rule.OnExitCodes.ContainerName)
			require.Contains(t, rule.OnExitCodes.Values, int32(2), "2 is wrong use")
			require.NotContains(t, rule.OnExitCodes.Values, int32(3), "3 is trouble that may pass")
		}
	}
}

// The flags and variables that the manifests set are those of the program as it is.
func TestFlagsAreThoseOfTheProgram(t *testing.T) {
	m := read(t)
	help, err := exec.Command(program(t), "--help").CombinedOutput()
	require.NoError(t, err)
	flags := map[string]bool{}
	for _, found := range regexp.MustCompile(`(?m)^ +--([a-z-]+)`).FindAllSubmatch(help, -1) {
		flags[string(found[1])] = true
	}
	require.Contains(t, flags, "listen")
	for name, pod := range m.pods() {
		if name == "seamwright-backup" {
			continue
		}
		for _, arg := range pod.Spec.Containers[0].Args {
			if flag, found := strings.CutPrefix(arg, "--"); found {
				flag, _, _ = strings.Cut(flag, "=")
				require.Contains(t, flags, flag, name)
			}
		}
		for _, e := range pod.Spec.Containers[0].Env {
			require.Contains(t, string(help), "["+e.Name+"]", name)
		}
	}
	require.True(t, bytes.Contains(help, []byte("seamwright migrate ")))
	require.Equal(t, "migrate", m.jobs["seamwright-migrate"].Spec.Template.Spec.Containers[0].Args[0])
}

// program is the service, built from the source around this folder, once.
func program(t *testing.T) string {
	t.Helper()
	path, err := built()
	require.NoError(t, err)
	return path
}

var built = sync.OnceValues(func() (string, error) {
	path := filepath.Join(place, "seamwright")
	if out, err := exec.Command("go", "build", "-C", "../..", "-o", path, ".").CombinedOutput(); err != nil {
		return "", fmt.Errorf("build: %w: %s", err, out)
	}
	return path, nil
})

// place is the folder of the built program.
var place string

func TestMain(m *testing.M) {
	var err error
	if place, err = os.MkdirTemp("", "seamwright-manifests-"); err != nil {
		panic(err)
	}
	code := m.Run()
	if err := os.RemoveAll(place); err != nil {
		panic(err)
	}
	os.Exit(code)
}

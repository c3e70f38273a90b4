package browser

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"net/url"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// tab is one page of the browser, with what happened in it since it was last
// sent to an address.
type tab struct {
	b        *chromium
	session  string
	scripted bool       // whether the page's scripts run
	mu       sync.Mutex // guards what follows
	origin   string
	loaded   chan struct{}
	asked    []string          // addresses that the page asked for, of its own origin
	names    map[string]string // the address of each request
	wrong    []string          // console messages, failed loads, requests that leave the origin
}

// screen is what a page is looked at on.
type screen struct {
	width int
	dark  bool
}

// phone and desk are the widths of which the project's promises speak, in pixels.
const (
	narrow = 320
	phone  = 360
	desk   = 1280
)

// newTab opens a tab in a window of its own, so that the browser takes every tab
// for one that is seen.
func newTab(t *testing.T, b *chromium) *tab {
	t.Helper()
	var made struct {
		TargetID  string `json:"targetId"`
		SessionID string `json:"sessionId"`
	}
	if err := b.ask("", "Target.createTarget", map[string]any{"url": "about:blank", "newWindow": true}, &made); err != nil {
		t.Fatal(err)
	}
	if err := b.ask("", "Target.attachToTarget", map[string]any{"targetId": made.TargetID, "flatten": true}, &made); err != nil {
		t.Fatal(err)
	}
	p := &tab{b: b, session: made.SessionID, scripted: true, names: map[string]string{}}
	b.mu.Lock()
	b.tabs[p.session] = p
	b.mu.Unlock()
	for _, domain := range []string{"Page", "Runtime", "Log", "Network", "Audits"} {
		p.do(t, domain+".enable", nil, nil)
	}
	p.do(t, "Network.setCacheDisabled", map[string]any{"cacheDisabled": true}, nil)
	return p
}

// do asks the tab and fails the test where that does not work.
func (p *tab) do(t testing.TB, method string, params, result any) {
	t.Helper()
	if err := p.b.ask(p.session, method, params, result); err != nil {
		t.Fatal(err)
	}
}

// look sets width and colours; a page that is open follows at once.
func (p *tab) look(t testing.TB, how screen) {
	t.Helper()
	p.do(t, "Emulation.setDeviceMetricsOverride", map[string]any{"width": how.width, "height": 900, "deviceScaleFactor": 1, "mobile": false}, nil)
	scheme := "light"
	if how.dark {
		scheme = "dark"
	}
	p.do(t, "Emulation.setEmulatedMedia", map[string]any{"features": []map[string]string{
		{"name": "prefers-color-scheme", "value": scheme},
		{"name": "prefers-reduced-motion", "value": "reduce"},
	}}, nil)
}

// scripts lets the scripts of pages run, or not; the next page follows. What the
// checks ask of a page runs all the same.
func (p *tab) scripts(t testing.TB, allowed bool) {
	t.Helper()
	p.scripted = allowed
	p.do(t, "Emulation.setScriptExecutionDisabled", map[string]any{"value": !allowed}, nil)
}

// open goes to an address and waits until the page is whole.
func (p *tab) open(t testing.TB, address string) {
	t.Helper()
	to, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	p.mu.Lock()
	p.origin, p.loaded = to.Scheme+"://"+to.Host, make(chan struct{})
	p.asked, p.wrong, p.names = nil, nil, map[string]string{}
	loaded := p.loaded
	p.mu.Unlock()
	var gone struct {
		ErrorText string `json:"errorText"`
	}
	p.do(t, "Page.navigate", map[string]any{"url": address}, &gone)
	if gone.ErrorText != "" {
		t.Fatalf("%s: %s", address, gone.ErrorText)
	}
	select {
	case <-loaded:
	case <-time.After(patience):
		t.Fatalf("%s: the page is never whole", address)
	}
	if p.scripted {
		// A turn of the page's own clock, so that what it does once it is whole is seen.
		p.run(t, "document.fonts.ready.then(() => new Promise(done => setTimeout(done, 20)))", nil)
	}
	p.run(t, inPage, nil)
	if p.scripted {
		p.run(t, "sidebatch.fetch()", nil)
	}
}

// run evaluates an expression in the page, waits for it where it is a promise, and
// reads its value into result, unless that is nil.
func (p *tab) run(t testing.TB, expression string, result any) {
	t.Helper()
	var got struct {
		Result struct {
			Value json.RawMessage `json:"value"`
		} `json:"result"`
		Exception *struct {
			Exception struct {
				Description string `json:"description"`
			} `json:"exception"`
		} `json:"exceptionDetails"`
	}
	p.do(t, "Runtime.evaluate", map[string]any{"expression": expression, "awaitPromise": true, "returnByValue": true}, &got)
	if got.Exception != nil {
		t.Fatalf("in the page: %s", got.Exception.Exception.Description)
	}
	if result == nil {
		return
	}
	if err := json.Unmarshal(got.Result.Value, result); err != nil {
		t.Fatalf("in the page: %v", err)
	}
}

// shoot takes a picture of the whole page, print prints it on sheets of A4.
func (p *tab) shoot(t testing.TB) []byte {
	t.Helper()
	return p.picture(t, "Page.captureScreenshot", map[string]any{"format": "png", "captureBeyondViewport": true})
}

func (p *tab) print(t testing.TB) []byte {
	t.Helper()
	const a4Width, a4Height = 210 / 25.4, 297 / 25.4 // ISO 216, in inches
	return p.picture(t, "Page.printToPDF", map[string]any{"paperWidth": a4Width, "paperHeight": a4Height, "preferCSSPageSize": true})
}

func (p *tab) picture(t testing.TB, method string, params any) []byte {
	t.Helper()
	var got struct {
		Data string `json:"data"`
	}
	p.do(t, method, params, &got)
	data, err := base64.StdEncoding.DecodeString(got.Data)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// event holds what the checks read of the events they listen to.
type event struct {
	RequestID string `json:"requestId"`
	Request   struct {
		URL string `json:"url"`
	} `json:"request"`
	Response struct {
		URL    string `json:"url"`
		Status int    `json:"status"`
	} `json:"response"`
	ErrorText string `json:"errorText"`
	Blocked   string `json:"blockedReason"`
	Type      string `json:"type"`
	Args      []struct {
		Value       any    `json:"value"`
		Description string `json:"description"`
	} `json:"args"`
	Entry struct {
		Source string `json:"source"`
		Text   string `json:"text"`
		URL    string `json:"url"`
	} `json:"entry"`
	Exception struct {
		Text      string `json:"text"`
		Exception struct {
			Description string `json:"description"`
		} `json:"exception"`
	} `json:"exceptionDetails"`
	Issue struct {
		Code    string `json:"code"`
		Details struct {
			Policy *struct {
				Directive string `json:"violatedDirective"`
				Type      string `json:"contentSecurityPolicyViolationType"`
			} `json:"contentSecurityPolicyIssueDetails"`
		} `json:"details"`
	} `json:"issue"`
}

// heard notes an event.
func (p *tab) heard(m message) {
	var e event
	if err := json.Unmarshal(m.Params, &e); err != nil {
		p.note("an event that nobody understands: " + m.Method)
		return
	}
	p.mu.Lock()
	name := p.names[e.RequestID]
	p.mu.Unlock()
	switch m.Method {
	case "Page.loadEventFired":
		p.mu.Lock()
		if p.loaded != nil {
			close(p.loaded)
			p.loaded = nil
		}
		p.mu.Unlock()
	case "Network.requestWillBeSent":
		p.requested(e.RequestID, e.Request.URL)
	case "Network.responseReceived":
		if e.Response.Status >= 400 {
			p.note(fmt.Sprintf("failed load: %s: status %d", e.Response.URL, e.Response.Status))
		}
	case "Network.loadingFailed":
		p.note(strings.TrimSpace("failed load: " + name + ": " + e.ErrorText + " " + e.Blocked))
	case "Runtime.consoleAPICalled":
		var words []string
		for _, a := range e.Args {
			words = append(words, strings.TrimSpace(fmt.Sprint(a.Value, " ", a.Description)))
		}
		p.note("console: " + e.Type + ": " + strings.Join(words, " "))
	case "Runtime.exceptionThrown":
		p.note("console: " + e.Exception.Text + " " + e.Exception.Exception.Description)
	case "Log.entryAdded":
		p.note("console: " + e.Entry.Source + ": " + e.Entry.Text + " " + e.Entry.URL)
	case "Audits.issueAdded":
		if policy := e.Issue.Details.Policy; policy != nil {
			p.note("policy: " + policy.Directive + ": " + policy.Type)
			return
		}
		if e.Issue.Code != "LazyLoadImageIssue" { // says that a picture waits, as it was told to
			p.note("issue: " + e.Issue.Code)
		}
	}
}

// requested notes an address that the page asks for. Data in the page itself is
// no request.
func (p *tab) requested(id, address string) {
	p.mu.Lock()
	p.names[id] = address
	own := address == p.origin || strings.HasPrefix(address, p.origin+"/")
	if own && !slices.Contains(p.asked, address) {
		p.asked = append(p.asked, address)
	}
	p.mu.Unlock()
	if !own && !strings.HasPrefix(address, "data:") {
		p.note("leaves the origin: " + address)
	}
}

func (p *tab) note(what string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if !slices.Contains(p.wrong, what) {
		p.wrong = append(p.wrong, what)
	}
}

// noise returns what went wrong since the page was opened, requests what it asked
// for.
func (p *tab) noise() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return slices.Clone(p.wrong)
}

func (p *tab) requests() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return slices.Clone(p.asked)
}

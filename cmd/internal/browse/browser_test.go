package browse

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// axeVersion is the version of the accessibility rules that .ci/run fetches.
const axeVersion = "4.14.1"

// browser is a headless browser with what its console said.
type browser struct {
	t    *testing.T
	ctx  context.Context
	base string // address of the page
	axe  string // source of the accessibility rules, "" where they are missing

	mu      sync.Mutex
	console []string

	silences int // how often the console was asked
}

// newBrowser starts a browser, or skips the test where there is none.
func newBrowser(t *testing.T, base string) *browser {
	t.Helper()
	program := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if at, err := exec.LookPath(name); err == nil {
			program = at
			break
		}
	}
	if program == "" {
		t.Skip("skipped: the page is tested in Chromium, which is not installed here")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(program), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.WSURLReadTimeout(patience), chromedp.UserDataDir(t.TempDir()), chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true))
	ctx, cancel := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	b := &browser{t: t, ctx: ctx, base: base}
	b.do(chromedp.Navigate("about:blank"))
	go func() {
		for m, err := range chromedp.Console(ctx) {
			if err != nil {
				return
			}
			b.mu.Lock()
			b.console = append(b.console, fmt.Sprintf("%s: %s %s", m.Type, m.Text, m.URL))
			b.mu.Unlock()
		}
	}()
	cache, err := os.UserCacheDir()
	if err == nil {
		var source []byte
		source, err = os.ReadFile(filepath.Join(cache, "hatchlore-test", "axe-core-"+axeVersion+".js"))
		b.axe = string(source)
	}
	if err != nil {
		t.Logf("skipped: no accessibility audit: %v; .ci/run fetches the rules", err)
	}
	return b
}

func (b *browser) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, steps...); err != nil {
		b.t.Fatal(err)
	}
}

// evaluate runs a script in the page.
func evaluate[T any](b *browser, script string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](script))
	if err != nil {
		b.t.Fatalf("%s: %v", script, err)
	}
	return v
}

// open goes to an address of the page.
func (b *browser) open(at string) { b.t.Helper(); b.goTo(at, 200) }

// goTo goes to an address that is answered with a status.
func (b *browser) goTo(at string, status int) {
	b.t.Helper()
	b.arrive(at, status, func() {
		b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, page.Navigate, page.NavigateParams{URL: b.base + at})
			return err
		}))
	})
}

// follow clicks and waits for the page that it leads to.
func (b *browser) follow(selector string) { b.t.Helper(); b.followTo(selector, 200) }

// followTo clicks what is answered with a status.
func (b *browser) followTo(selector string, status int) {
	b.t.Helper()
	b.arrive(selector, status, func() { b.t.Helper(); b.click(selector) })
}

// followWords clicks the first link or button with the words.
func (b *browser) followWords(words string) {
	b.t.Helper()
	quoted, err := json.Marshal(words)
	if err != nil {
		b.t.Fatal(err)
	}
	if !evaluate[bool](b, `(() => { const a = [...document.querySelectorAll("main a, main button")].find(a => a.textContent.includes(`+string(quoted)+`));
		if (!a) return false; document.querySelectorAll("[data-followed]").forEach(e => e.removeAttribute("data-followed")); a.setAttribute("data-followed", ""); return true })()`) {
		b.t.Fatalf("nothing on %s says %q", b.path(), words)
	}
	b.follow("[data-followed]")
}

// arrive makes a step and waits until another document is there, whole and answered
// with a status. The document that is left is known by a mark, whatever events come
// of the step in whatever order.
func (b *browser) arrive(what string, status int, step func()) {
	b.t.Helper()
	evaluate[bool](b, "window.left = true")
	step()
	b.waitFor(`!window.left && document.readyState === "complete"`)
	if got := evaluate[int](b, `performance.getEntriesByType("navigation")[0].responseStatus`); got != status {
		b.t.Fatalf("%s leads to %s with status %d, want %d", what, b.path(), got, status)
	}
}

// click clicks an element once it can be: when it is seen, stands where it stood a
// moment before, and nothing lies over it.
func (b *browser) click(selector string) {
	b.t.Helper()
	b.waitFor(fmt.Sprintf(`(() => {
		const e = document.querySelector(%q);
		if (!e || e.disabled || !e.checkVisibility()) return false;
		e.scrollIntoView({block: "center", behavior: "instant"});
		const box = e.getBoundingClientRect();
		const at = [box.top, box.left, box.width].join();
		if (window.stood !== at) { window.stood = at; return false }
		const top = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
		if (!top || !(e.contains(top) || top.contains(e))) return false;
		e.focus();
		e.click();
		return true })()`, selector))
}

func (b *browser) path() string { return evaluate[string](b, "location.pathname") }

// says fails unless the page shows all the words.
func (b *browser) says(words ...string) {
	b.t.Helper()
	text := evaluate[string](b, "document.body.innerText")
	for _, w := range words {
		if !strings.Contains(strings.ToLower(text), strings.ToLower(w)) {
			b.t.Errorf("%s does not say %q", b.path(), w)
		}
	}
}

// at fails unless the focus comes to an element: where whoever uses keys goes on. A
// browser moves it some time after a page is there.
func (b *browser) at(selector string) {
	b.t.Helper()
	b.waitFor(fmt.Sprintf("document.activeElement === document.querySelector(%q)", selector))
}

// reachable goes through the view with the tabulator key and fails unless it
// comes to everything that can be used, and the focus is seen on each.
func (b *browser) reachable(view string) {
	b.t.Helper()
	b.do(chromedp.EmulateViewport(1280, 844))
	want := evaluate[int](b, `(() => {
		const can = "a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex='0']";
		const radios = new Set();
		window.left = new Set([...document.querySelectorAll(can)].filter(e => e.checkVisibility() && !e.disabled && !e.closest("details:not([open]) > :not(summary)")
			&& !(e.type === "radio" && (radios.has(e.name) || !radios.add(e.name)))));
		document.activeElement.blur();
		return window.left.size })()`)
	for range want + moreStops {
		b.do(chromedp.KeyEvent("\t"))
		if unseen := evaluate[string](b, `(() => {
			const e = document.activeElement;
			if (e === document.body) return "";
			window.left.delete(e);
			const s = getComputedStyle(e);
			return s.outlineStyle === "none" || parseFloat(s.outlineWidth) === 0 ? e.outerHTML.slice(0, 80) : "" })()`); unseen != "" {
			b.t.Errorf("%s: the focus is not seen on %s", view, unseen)
		}
	}
	if missed := evaluate[string](b, `[...window.left].map(e => e.outerHTML.slice(0, 80)).join("\n")`); missed != "" {
		b.t.Errorf("%s: keys do not reach\n%s", view, missed)
	}
}

// moreStops are the tabulator's stops within a field: a date has several.
const moreStops = 8

// prints fails unless the view can be printed, without what is of use on a
// screen only.
func (b *browser) prints(view string) {
	b.t.Helper()
	b.do(medium("print"))
	if shown := evaluate[string](b, `[...document.querySelectorAll("nav, form, button, .button, .skip, [role=status]")].filter(e => e.checkVisibility()).map(e => e.outerHTML.slice(0, 80)).join("\n")`); shown != "" {
		b.t.Errorf("%s is printed with\n%s", view, shown)
	}
	b.do(medium(""))
	var out page.PrintToPDFResult
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) (err error) {
		out, err = cdp.Call(ctx, t, page.PrintToPDF, page.PrintToPDFParams{})
		return err
	}))
	if !bytes.HasPrefix(out.Data, []byte("%PDF-")) {
		b.t.Errorf("%s: printed as %.20q", view, out.Data)
	}
}

func medium(name string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: name})
		return err
	})
}

// enter puts a value into a field in place of what stands there.
func (b *browser) enter(selector, value string) {
	b.t.Helper()
	if !evaluate[bool](b, fmt.Sprintf(`(() => { const f = document.querySelector(%q); if (!f) return false;
		f.value = %q; f.dispatchEvent(new Event("input", {bubbles: true})); return true })()`, selector, value)) {
		b.t.Fatalf("%s has no field %s", b.path(), selector)
	}
}

// script lets the pages that are opened from now on run their scripts, or not.
func (b *browser) script(runs bool) {
	b.t.Helper()
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: !runs})
		return err
	}))
}

// waitFor waits until a script is true, over pages that load themselves anew.
func (b *browser) waitFor(script string) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	var last error
	for begun := time.Now(); time.Since(begun) < patience; time.Sleep(100 * time.Millisecond) {
		done, err := chromedp.Run(ctx, chromedp.Evaluate[bool](script))
		if done {
			return
		}
		last = err
	}
	b.t.Fatalf("waited for %s on %s, where the focus is on %s: %v\n%s", script, b.path(),
		evaluate[string](b, "document.activeElement.outerHTML.slice(0, 80)"), last, evaluate[string](b, "document.body.innerText"))
}

// patience is how long the page may take for what goes on behind it, on a
// machine that has other work.
const patience = 2 * time.Minute

// quiet fails when the console said anything since it was last asked, but for
// the refusal that a step was made for, which it waits for.
func (b *browser) quiet(but string) {
	b.t.Helper()
	if but != "" {
		b.heard(but)
	}
	// What was said before this has come when this has.
	b.silences++
	end := fmt.Sprintf("silence %d", b.silences)
	evaluate[bool](b, fmt.Sprintf("console.debug(%q) ?? true", end))
	b.heard(end)
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, said := range b.console {
		b.t.Errorf("the console says %s", said)
	}
	b.console = nil
}

// heard waits until the console has said words, and takes them off what it said.
func (b *browser) heard(words string) {
	b.t.Helper()
	for begun := time.Now(); time.Since(begun) < patience; time.Sleep(20 * time.Millisecond) {
		b.mu.Lock()
		before := len(b.console)
		b.console = slices.DeleteFunc(b.console, func(said string) bool { return strings.Contains(said, words) })
		after := len(b.console)
		b.mu.Unlock()
		if after < before {
			return
		}
	}
	b.t.Fatalf("the console does not say %q", words)
}

// looks are the windows that every view is checked in, by which rules: what
// the first found of names and order is the same in the second.
var looks = []struct {
	width  int64
	scheme string
	rules  string
}{{390, "dark", ""}, {1280, "light", `, runOnly: {type: "rule", values: ["color-contrast", "link-in-text-block", "scrollable-region-focusable"]}`}}

// fine checks the view that is open: no wider than its window, silent console,
// no serious finding of the accessibility rules.
func (b *browser) fine(view string) {
	b.t.Helper()
	for _, l := range looks {
		b.do(chromedp.EmulateViewport(l.width, 844), scheme(l.scheme))
		if over := evaluate[int](b, "document.documentElement.scrollWidth - innerWidth"); over > 0 {
			b.t.Errorf("%s is %d px wider than a window of %d", view, over, l.width)
		}
		for _, finding := range b.audit(l.rules) {
			b.t.Errorf("%s, %d px, %s: %s", view, l.width, l.scheme, finding)
		}
	}
	b.quiet("")
}

func scheme(name string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: name}}})
		return err
	})
}

// audit returns the serious and critical findings of the accessibility rules,
// or of those chosen, on the page as it stands.
func (b *browser) audit(rules string) []string {
	b.t.Helper()
	if b.axe == "" {
		return nil
	}
	if !evaluate[bool](b, "typeof axe === 'object'") {
		if _, err := chromedp.Run(b.ctx, chromedp.Evaluate[chromedp.Void](b.axe)); err != nil {
			b.t.Fatal(err)
		}
	}
	found, err := chromedp.Run(b.ctx, chromedp.Evaluate[[]string](`axe.run(document, {resultTypes: ["violations"]`+rules+`}).then(r => r.violations
		.filter(v => v.impact === "serious" || v.impact === "critical")
		.map(v => v.id + ": " + v.help + ": " + v.nodes.slice(0, 3).map(n => n.html.slice(0, 160) + " " + (n.any[0] || n.all[0] || n.none[0] || {message: ""}).message).join(" | ")))`,
		func(p *runtime.EvaluateParams) { chromedp.EvalAwaitPromise(p) }))
	if err != nil && !errors.Is(err, chromedp.ErrJSNull) {
		b.t.Fatal(err)
	}
	return found
}

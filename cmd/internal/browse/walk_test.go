package browse

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	_ "hatchlore/query/web" // a result kept from before does not stand in for a page that has changed
)

// serve builds the command and starts its page over a new library. It returns
// the page's address.
func serve(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	program := filepath.Join(dir, "hatchlore")
	if out, err := exec.Command("go", "build", "-o", program, "hatchlore/cmd/hatchlore").CombinedOutput(); err != nil {
		t.Fatalf("building the command: %v\n%s", err, out)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cmd := exec.CommandContext(ctx, program, "--library", filepath.Join(dir, "library"), "serve", "--listen", "127.0.0.1:0")
	cmd.Cancel = func() error { return cmd.Process.Signal(os.Interrupt) }
	cmd.WaitDelay = 10 * time.Second
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		cancel()
		if err := cmd.Wait(); err != nil && ctx.Err() == nil {
			t.Error(err)
		}
	})
	line, err := bufio.NewReader(out).ReadString('\n')
	at := regexp.MustCompile(`http://127\.0\.0\.1:\d+`).FindString(line)
	if at == "" {
		t.Fatalf("the command said %q, %v", line, err)
	}
	return at
}

// The keeper's whole way: papers, a disagreement, a claim, a trial, its counts, the
// verdict. Everything is invented.
func TestWalk(t *testing.T) {
	b := newBrowser(t, serve(t))
	b.open("/")
	b.says("no paper")
	b.fine("an empty library")
	b.addPapers()
	b.readClaim()
	b.takeBack()
	b.spelling()
	b.plan()
	b.count()
	b.verdict()
	b.recount()
	b.handOn()
	b.withoutScript()
	for _, at := range []string{"/papers", "/search?words=oxygen", "/search?words=oxygen+unheard+Quenocaris", "/lots", "/trials"} {
		b.open(at)
		b.fine(at)
	}
	for at, status := range map[string]int{"/nowhere": 404, "/search?words=the": 400} {
		b.goTo(at, status)
		b.quiet(strconv.Itoa(status))
		b.fine(at)
	}
	b.byKeys()
}

// sample is the papers on one animal that disagree most about drying.
var sample = []string{"marchbank-1968.pdf", "tarvold-1991.pdf", "solberrin-2015.pdf"}

func (b *browser) addPapers() {
	b.t.Helper()
	b.open("/add")
	b.fine("adding papers")
	var files []string
	for _, name := range sample {
		at, err := filepath.Abs(filepath.Join("..", "..", "..", "corpus-sample", "pdf", name))
		if err != nil {
			b.t.Fatal(err)
		}
		files = append(files, at)
	}
	b.do(chromedp.SetUploadFiles(chromedp.CSS("#papers"), files))
	b.click("#add button.main")
	b.waitFor(fmt.Sprintf(`document.querySelector("h2")?.textContent === "%d files done"`, len(sample)))
	b.says("added", "claims")
	b.fine("papers added")
}

func (b *browser) readClaim() {
	b.t.Helper()
	b.open("/")
	b.fine("the species")
	b.followWords("Quennocaris pallidipes")
	b.says("invented", "where papers disagree", "before you act")
	b.fine("a species")
	b.followWords("Must the eggs dry")
	b.says("what could explain it", "own findings")
	b.fine("a disagreement")
	b.follow(".side-of blockquote a")
	b.says("is it read rightly")
	b.fine("a claim")
	b.do(chromedp.SendKeys(chromedp.CSS("#reason"), "read beside its page"))
	b.follow(`.decision button[value="accept"]`)
	b.says("accepted", "read beside its page")
	b.at("#decided")
	b.fine("a claim decided")
}

// takeBack takes a decision back, and is refused a rejection without a reason
// where it was typed.
func (b *browser) takeBack() {
	b.t.Helper()
	b.follow(`.decision button[value="undo"]`)
	b.says("taken back", "what you decided")
	b.at("#decided")
	if evaluate[bool](b, `document.querySelector('.decision button[value="undo"]') !== null`) {
		b.t.Error("a decision that was taken back can be taken back again")
	}
	b.followTo(`.decision button[value="reject"]`, 422)
	b.quiet("422")
	b.says("rejected with a reason")
	b.at("#reason")
	b.fine("a claim with a decision refused")
}

// spelling misspells the animal of a claim and reads the one name as the other.
func (b *browser) spelling() {
	b.t.Helper()
	b.click(".decision summary")
	b.enter("#taxon", "Quennocaris palidipes")
	b.follow(`.decision button[value="amend"]`)
	b.says("amended", "Quennocaris palidipes")
	b.open("/")
	b.says("perhaps one name in two spellings")
	b.fine("two spellings of one name")
	b.follow(`#doubtful + ul a[href*="palidipes"]`)
	b.open("/species/Quennocaris%20pallidipes")
	b.followWords("Read Quennocaris palidipes as")
	b.says("Quennocaris palidipes is read as this", "another spelling")
	b.at("#names")
	b.open("/")
	if evaluate[bool](b, `document.body.innerText.includes("palidipes") && document.getElementById("doubtful") !== null`) {
		b.t.Error("two names that are read as one still count as doubtful")
	}
	b.open("/species/Quennocaris%20pallidipes")
	b.followWords("Read Quennocaris palidipes as itself again")
	b.says("Quennocaris palidipes", "1 claim from 1 paper")
	// The claim is put right again, so that all else stands on the sample.
	b.follow(".claims .value a")
	b.follow(`.decision button[value="undo"]`)
	b.says("Quennocaris pallidipes", "taken back")
	// A name that no paper has is taken, and told so where it can be taken back.
	b.open("/species/Quennocaris%20pallidipes")
	b.click("#names ~ details summary")
	b.enter("#new", "Quennocaris pallidippes")
	b.follow("#names ~ details button")
	b.says("No paper of the library has a claim on Quennocaris pallidippes")
	b.fine("a name that no paper has")
	b.followWords("Read Quennocaris pallidipes as itself again")
	b.says("Quennocaris pallidipes", "claims from 3 papers")
}

// withoutScript goes where script would help: what is wrong with a plan is said and a
// claim decided by their buttons, and a search is answered.
func (b *browser) withoutScript() {
	b.t.Helper()
	b.script(false)
	b.open("/plan?taxon=Quennocaris%20pallidipes")
	b.enter("#lot-0-eggs", "100")
	b.follow("#plan button.main")
	b.says("no plan yet", "has 17 eggs left, not 100")
	b.open(disagreementAt)
	b.follow(".side-of blockquote a")
	b.follow(`.decision button[value="accept"]`)
	b.says("accepted")
	b.follow(`.decision button[value="undo"]`)
	b.open("/search?words=oxygen+unheard")
	b.says("No page has all of this", "unheard")
	b.open("/add")
	b.says("choose papers")
	b.quiet("")
	b.script(true)
}

// disagreementAt is where the disagreement about drying is shown.
const disagreementAt = "/species/Quennocaris%20pallidipes/disagreements/quennocaris-pallidipes:drying:need"

// workedOut is true when the offer is that of the form as it stands.
const workedOut = `!document.getElementById("offer").hasAttribute("aria-busy")`

func (b *browser) plan() {
	b.t.Helper()
	b.open("/lots")
	b.do(chromedp.SendKeys(chromedp.CSS("#lot"), "terrace 2"), chromedp.SendKeys(chromedp.CSS("#taxon"), "Quennocaris pallidipes"), chromedp.SendKeys(chromedp.CSS("#eggs"), "300"))
	b.follow(`form[action="/lots"] button.main`)
	b.says("300 eggs left")

	b.open(disagreementAt)
	b.followWords("Plan a trial")
	if !evaluate[bool](b, `document.querySelector("input[name=disagreement]:checked").value.endsWith(":drying:need") && document.querySelectorAll("input[name=disagreement]:checked").length === 1`) {
		b.t.Error("the form has not chosen the disagreement that it was opened from, and no other")
	}
	b.says("eggs used", "chance that the counts settle it")
	before := evaluate[string](b, `document.querySelector("#offer .cost").textContent`)
	// The figures follow what is typed.
	b.do(chromedp.SendKeys(chromedp.CSS("#dishes"), "16"), chromedp.SendKeys(chromedp.CSS("#chambers"), "12"))
	b.waitFor(workedOut + fmt.Sprintf(` && document.querySelector("#offer .cost").textContent !== %q`, before))
	if n := evaluate[string](b, `document.querySelector("#offer .cost div:nth-child(3) dd").textContent`); n != "16" {
		b.t.Errorf("the offer has %s dishes where 16 were typed", n)
	}
	// What is wrong is said at its field, and mended there.
	b.enter("#chambers", "warm")
	b.waitFor(workedOut + ` && document.getElementById("chambers").hasAttribute("aria-invalid")`)
	b.says("a chamber holds")
	b.fine("a plan that is refused")
	b.enter("#chambers", "12")
	// So are more eggs than the lot holds, and clutches that are none.
	b.enter("#lot-0-eggs", "999")
	b.waitFor(`document.getElementById("lot-0-eggs-hint")?.textContent.includes("not 999")`)
	b.enter("#lot-0-eggs", "")
	b.enter("#lot-0-clutches", "female 1 = some")
	b.waitFor(`document.getElementById("lot-0-eggs-hint") === null && document.getElementById("lot-0-clutches").hasAttribute("aria-invalid") && document.getElementById("lot-0-clutches").checkVisibility()`)
	b.enter("#lot-0-clutches", "female 1 = 150\nfemale 2 = 150")
	b.waitFor(workedOut + ` && !document.getElementById("lot-0-clutches").hasAttribute("aria-invalid") && document.querySelector("#offer .cost") !== null`)
	b.enter("#lot-0-clutches", "")
	// The last look of all dishes lies behind: one form ends the counting.
	b.click("#when-trigger")
	day := time.Now().AddDate(0, 0, -20).Format(time.DateOnly)
	b.enter("#day", day)
	b.waitFor(workedOut + fmt.Sprintf(` && document.getElementById("offer").textContent.includes("trigger %s")`, day))
	b.fine("the form with its offer")
	b.follow(".keep button")
	b.says("what it can settle", "for the bench", "terrace 2")
	b.fine("a plan")
	trial := b.path()
	for _, part := range []string{"calendar", "dishes", "looks", "result", "sheets"} {
		b.open(trial + "/" + part)
		if part != "sheets" { // which are for paper, and print without script
			b.fine("a trial's " + part)
		}
		b.quiet("")
	}
	b.open(trial)
}

func (b *browser) count() {
	b.t.Helper()
	trial := b.path()
	b.open(trial + "/dishes")
	// The keeper's other hand knows which dishes were dried.
	dried := strings.Fields(evaluate[string](b, `(() => { const [dishes, treatments] = document.querySelectorAll("table.figures");
		const bare = [...treatments.querySelectorAll("tbody tr")].filter(r => r.cells[1].textContent.trim() === "0 d").map(r => r.cells[0].textContent.trim().split(/\s/)[0]);
		return [...dishes.querySelectorAll("tbody tr")].filter(r => !bare.includes(r.cells[2].textContent.trim())).map(r => r.cells[1].textContent.trim()).join(" ") })()`))
	if len(dried) == 0 {
		b.t.Fatal("no dish is dried")
	}
	b.open(trial + "/count")
	b.says("due today", "last look")
	b.fine("the counts form")
	// An impossible count is held back with its dish named; the rest is kept.
	labels := strings.Fields(evaluate[string](b, `[...document.querySelectorAll(".dish legend .label")].map(l => l.textContent).join(" ")`))
	fill := func(label, n string) { b.enter(fmt.Sprintf(`[name="hatched:%s"]`, label), n) }
	// What is typed and not yet recorded outlives a closed page.
	fill(labels[0], "0")
	b.open(trial + "/count")
	if v := evaluate[string](b, fmt.Sprintf(`document.querySelector('[name="hatched:%s"]').value + ", " + document.getElementById("unsent").textContent`, labels[0])); v != "0, 1 dish not recorded yet" {
		b.t.Errorf("a count half entered comes back as %q", v)
	}
	fill(labels[1], "7777")
	b.followTo(".send button", 422)
	b.quiet("422")
	b.says("not recorded", "Dish "+labels[1], "1 look recorded")
	b.fine("an impossible count")
	// A large key counts up.
	b.click(fmt.Sprintf(`[id="dish-%s"] .number button:last-child`, labels[2]))
	if v := evaluate[string](b, fmt.Sprintf(`document.querySelector('[name="hatched:%s"]').value`, labels[2])); v != "1" {
		b.t.Errorf("a key pressed once counts %q", v)
	}
	evaluate[int](b, "document.querySelectorAll('details').forEach(d => d.open = true) || 0")
	for _, l := range labels {
		fill(l, "0")
	}
	for _, l := range dried {
		fill(l, "6")
	}
	b.follow(".send button")
}

func (b *browser) verdict() {
	b.t.Helper()
	b.says("supported", "contradicted", "hatched, by treatment")
	b.fine("a result")
	trial := strings.TrimSuffix(b.path(), "/result")
	b.open(trial + "/looks")
	b.fine("looks that were corrected")
	b.open(disagreementAt)
	b.says("what trials say", "own trial", "is supported")
	b.fine("a disagreement after its trial")
	b.open("/species/Quennocaris%20pallidipes")
	b.says("own trial")
}

// recount corrects the eggs of a lot, at first with what is no number.
func (b *browser) recount() {
	b.t.Helper()
	b.open("/lots")
	b.followWords("terrace 2")
	b.says("set in trial")
	b.fine("a lot")
	b.enter("#eggs", "some")
	b.enter("#reason", "dropped a vial")
	b.followTo("form.plan button.main", 422)
	b.quiet("422")
	b.says(`not "some"`)
	if typed := evaluate[string](b, `document.getElementById("reason").value`); typed != "dropped a vial" {
		b.t.Errorf("what was typed is lost: %q", typed)
	}
	b.enter("#eggs", "17")
	b.follow("form.plan button.main")
	b.says("17 eggs left")
	b.followWords("terrace 2")
	b.says("dropped a vial")
}

// byKeys goes from the head of a page to its content without a mouse, and
// through all of a view with a form.
func (b *browser) byKeys() {
	b.t.Helper()
	b.open("/trials")
	b.do(chromedp.KeyEvent("\t"))
	if !evaluate[bool](b, `document.activeElement.classList.contains("skip") && document.activeElement.getBoundingClientRect().left >= 0`) {
		b.t.Error("the first key does not reach the way to the content, or it is not seen there")
	}
	b.do(chromedp.KeyEvent("\r"))
	b.at("#main")
	b.do(chromedp.KeyEvent("\t"))
	if !evaluate[bool](b, `document.activeElement.closest("main") !== null && getComputedStyle(document.activeElement).outlineStyle !== "none"`) {
		b.t.Error("the next key does not reach the content, or its focus is not seen")
	}
	b.quiet("")
	b.open(disagreementAt)
	b.follow(".side-of blockquote a")
	b.reachable("a claim")
	here := b.path()
	b.arrive("the key for the next claim", 200, func() { b.do(chromedp.KeyEvent(kb.ArrowRight)) })
	b.arrive("the key for the claim before", 200, func() { b.do(chromedp.KeyEvent(kb.ArrowLeft)) })
	if b.path() != here {
		b.t.Errorf("right and left lead from %s to %s", here, b.path())
	}
	b.open("/lots")
	b.reachable("lots")
	b.open("/search?words=oxygen+unheard&from=1980")
	b.reachable("a search")
}

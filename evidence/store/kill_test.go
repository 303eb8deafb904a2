package store

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// killDir names the library for the test binary when it runs as the victim.
const killDir = "HATCHLORE_TEST_KILL_DIR"

func TestMain(m *testing.M) {
	if dir := os.Getenv(killDir); dir != "" {
		victim(dir)
	}
	os.Exit(m.Run())
}

// victim stores papers until it is killed, saying each that is in.
func victim(dir string) {
	s, err := Open(dir)
	if err != nil {
		fmt.Println("error", err)
		os.Exit(1)
	}
	c, err := s.Counts(ctx)
	for n := c.Papers; err == nil; n++ {
		fmt.Println("ready")
		if _, err = s.Put(ctx, killPaper(n), nil); err == nil {
			fmt.Println("stored", n)
		}
	}
	fmt.Println("error", err)
	os.Exit(1)
}

// killPaper has 1 to 12 pages of up to 20 kB, so that a kill finds some of them written.
func killPaper(n int) Paper {
	var texts []string
	for i := range 1 + n%12 {
		texts = append(texts, textA+hexNoise(n*100+i, 2000+n*777%18000))
	}
	return paper(n, texts...)
}

func TestKill(t *testing.T) {
	kills := 30
	if testing.Short() {
		kills = 5
	}
	dir := t.TempDir()
	rnd := rand.New(rand.NewPCG(7, 7))
	stored := 0
	for kill := range kills {
		stored = max(stored, killOnce(t, dir, time.Duration(rnd.IntN(40_000))*time.Microsecond))
		s, err := Open(dir)
		if err != nil {
			t.Fatalf("kill %d: %v", kill, err)
		}
		if faults, err := s.Faults(ctx); len(faults) > 0 || err != nil {
			t.Fatalf("kill %d: faults %v %v", kill, faults, err)
		}
		n := 0
		for l, err := range s.Papers(ctx) {
			if err != nil {
				t.Fatal(err)
			}
			var seed int
			fmt.Sscanf(l.Paper, "ficta%d", &seed)
			if want := len(killPaper(seed - 1900).Pages); l.Pages != want {
				t.Fatalf("kill %d: %s has %d pages of %d", kill, l.Paper, l.Pages, want)
			}
			n++
		}
		if n < stored {
			t.Fatalf("kill %d: %d papers, but %d were reported stored", kill, n, stored)
		}
		s.Close()
	}
	t.Logf("%d kills, %d papers", kills, stored)
	if stored == 0 {
		t.Error("no paper was stored between kills: the test shows nothing")
	}
}

// killOnce runs a victim, kills it some time after it is ready, and returns
// how many papers it said were in.
func killOnce(t *testing.T, dir string, after time.Duration) int {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), killDir+"="+dir)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(out)
	stored, ready := 0, false
	for lines.Scan() {
		line := lines.Text()
		if strings.HasPrefix(line, "error") {
			t.Errorf("victim: %s", line)
		}
		if !ready {
			ready = true
			time.AfterFunc(after, func() { cmd.Process.Kill() })
		}
		var n int
		if _, err := fmt.Sscanf(line, "stored %d", &n); err == nil {
			stored = n + 1
		}
	}
	cmd.Wait()
	return stored
}

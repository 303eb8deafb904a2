package trial

import (
	"fmt"
	"strings"
)

// Plural writes a number with its noun: "1 dish", "3 dishes".
func Plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	if strings.HasSuffix(noun, "sh") {
		noun += "e"
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

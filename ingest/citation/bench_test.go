package citation

import (
	"strings"
	"testing"
)

func BenchmarkMentions(b *testing.B) {
	var s strings.Builder
	for _, c := range mentionCases {
		s.WriteString("Eggs were taken from the mud and left to stand in clean rain water for the whole of the trial. " + c.in + "\n")
	}
	b.SetBytes(int64(s.Len()))
	for b.Loop() {
		Mentions(s.String())
	}
}

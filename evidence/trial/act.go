package trial

// Acts of a dish, in the order in which they can come.
const (
	ActSetOut  = "set-out"
	ActStore   = "store"
	ActDry     = "dry"
	ActFreeze  = "freeze"
	ActChill   = "chill"
	ActMove    = "move"
	ActTrigger = "trigger"
	ActLook    = "look"
)

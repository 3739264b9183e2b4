package facts

import "context"

// takeOff compares what is needed with what was bought.
func (j *join) takeOff(context.Context) error { return nil }

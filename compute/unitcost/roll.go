package unitcost

type roll struct{}

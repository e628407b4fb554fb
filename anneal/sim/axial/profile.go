package axial

func Profile(points []Point, onShelf bool) Body { return refused(bad("not yet")) }

package figures

// role is what a column with such a head holds; empty where the head does not
// tell.
func (u unit) role() string {
	switch {
	case u.note:
		return isNote
	case u.vacuum && !u.angle && !u.speed && !u.other:
		return isVacuum
	case u.vacuum || u.other:
		return isSkip
	case u.direction:
		return isDirection
	case u.place:
		return isPlace
	case u.speed && (u.angle || u.least || u.most), u.up && u.down:
		return ""
	case u.speed:
		return isSpeed
	}
	return u.angleRole()
}

func (u unit) angleRole() string {
	switch {
	case u.up && (u.least || u.most), u.down && (u.least || u.most):
		return ""
	case u.up:
		return isRising
	case u.down:
		return isFalling
	case u.least && u.most:
		return isDeg
	case u.least:
		return isMin
	case u.most:
		return isMax
	case u.angle:
		return isDeg
	}
	return ""
}

package choose

import "stanchion/model"

// ApartIn says in which figures two settings are how clearly apart, of those that Apart looks at.
func ApartIn(a, b *model.Row, stdUnc model.Contribution) (downforce, share Clarity) {
	if Apart(a, b, stdUnc) == NotKnown {
		return NotKnown, NotKnown
	}
	return ClarityOf(a.Downforce-b.Downforce, stdUnc.Downforce), ClarityOf(a.Share-b.Share, stdUnc.Share)
}

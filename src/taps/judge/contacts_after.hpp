#pragma once
#include "taps/judge/judge.hpp"

namespace platewright::taps {

/// How often the plate was touched again after the strike: what a linear predictor of the ring
/// could not foresee, where it leaps up and only dies away from there. A voice leaps up too, with
/// each of its pulses, and goes on as it went on before the strike: that is no contact. Contacts
/// 26 dB under the strike are too weak to matter. None where it leaps up again and again: that is
/// no strike at all, and the fit's to refuse. Pure; about a millisecond; worker.
int contacts_after(const Cut& cut, const DetectorParams& params);

} // namespace platewright::taps

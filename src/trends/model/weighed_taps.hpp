#pragma once
#include "base/result.hpp"
#include "ledger/record.hpp"
#include "plate/fit/fit.hpp"

#include <functional>
#include <optional>
#include <span>
#include <vector>

namespace platewright::trends {

/// Weighing a mode: bare - with the mass - bare again, the plate left hanging; the two bare ends
/// tell what the air and the hold did meanwhile.

/// Whether the mass lies on the plate, by its ring.
enum class MassHeard { off, on, unclear };

/// own: the plate's modes without it. All of a plate's modes fall together under a mass, more or
/// less by the place, and none rises; `unclear` where neither that nor the bare plate is heard.
MassHeard mass_heard(std::span<const ledger::ModeRecord> own, std::span<const modes::Partial> heard,
                     double mass_g, std::optional<double> plate_g);

/// What comes next in a weighing.
enum class WeighingStep { tap_bare, tap_with, take_off, done };
struct WeighingProgress {
    WeighingStep step = WeighingStep::tap_bare;
    int bare_before = 0, with = 0, bare_after = 0; ///< taps that count
};
inline constexpr int k_taps_each = 2; ///< of each of the three that are enough

WeighingProgress progress_of(const ledger::SessionHistory& session,
                             const ledger::WeighingRecord& weighing);

/// A named mode before and with the mass; drift taken out.
struct WeighedModeShift {
    int number = 0;
    double off_hz = 0; ///< at the moment of the taps with the mass
    double on_hz = 0;
    double drift_hz = 0;            ///< of the bare plate meanwhile
    plate::WeighedShift shift = {}; ///< as the fit takes it

    double shift_hz() const { return on_hz - off_hz; }
    double shift_sd_hz() const { return shift.sd * off_hz; }
};

/// ln of the ratio that a model foretells for a mode of this number; nothing where it has none.
using ExpectedRatio = std::function<std::optional<double>(int number)>;

/// What a weighing's taps tell; empty while they are not enough. Each mode is sought where
/// `expected` has it; where there is none, as the nearest partial at or below the bare one.
/// The bare taps are those nearest in time on both sides, twenty minutes at most.
/// A tap's frequency deviates by 0.015 % from one to the next of a plate that hangs untouched
/// (median of ten spruce boards, five strikes each; 0.027 % the upper quartile).
std::vector<WeighedModeShift> weighed_shifts(const ledger::SessionHistory& session,
                                             const ledger::WeighingRecord& weighing,
                                             const ExpectedRatio& expected = {});

/// Why a mass can't be weighed with: none, or so heavy that it is more than a tenth of the plate;
/// a place off the plate. Nothing where all is well.
std::optional<base::Fault> fault_in(const ledger::WeighingRecord& weighing,
                                    const plate::Outline& outline, std::optional<double> plate_g);

} // namespace platewright::trends

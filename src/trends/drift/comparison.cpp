#include "trends/drift/comparison.hpp"

#include "base/interval.hpp"
#include "base/level.hpp"
#include "base/stats.hpp"
#include "modes/pool/match.hpp"
#include "trends/drift/repeatability.hpp"
#include "trends/track/track.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace platewright::trends {
namespace {

constexpr double k_plates_gate = 0.10; // two plates of a kind differ more than two visits to one

using Records = std::vector<ledger::ModeRecord>;

const modes::Mode* numbered(const Records& records, int number) {
    const ledger::ModeRecord* found = find_mode(records, number);
    return found == nullptr ? nullptr : &found->mode;
}

ComparedMode compared(const modes::Mode* plate, const modes::Mode* reference,
                      std::optional<int> number) {
    ComparedMode result;
    result.number = number;
    if (plate != nullptr)
        result.plate = *plate;
    if (reference != nullptr)
        result.reference = *reference;
    if (plate == nullptr || reference == nullptr)
        return result;
    result.hz = plate->frequency_hz - reference->frequency_hz;
    result.hz_sd = difference_sd_hz(*plate, *reference);
    result.cents = base::cents(plate->frequency_hz, reference->frequency_hz);
    if (reference->q > 0.0)
        result.q_ratio = plate->q / reference->q;
    result.beyond_spread = std::abs(*result.hz) > base::plus_minus(*result.hz_sd);
    return result;
}

std::vector<ComparedMode> compare_named(const Records& plate, const Records& reference) {
    std::vector<int> numbers;
    for (const Records* records : {&plate, &reference})
        for (const ledger::ModeRecord& record : *records)
            if (record.name)
                numbers.push_back(record.name->number);
    std::ranges::sort(numbers);
    numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
    std::vector<ComparedMode> result;
    for (const int number : numbers)
        result.push_back(compared(numbered(plate, number), numbered(reference, number), number));
    return result;
}

std::vector<modes::Mode> unnamed(const Records& records) {
    std::vector<modes::Mode> modes;
    for (const ledger::ModeRecord& record : records)
        if (!record.name)
            modes.push_back(record.mode);
    return modes;
}

// Unnamed modes are paired where the named ones, on average, say their partners lie.
double usual_ratio(const std::vector<ComparedMode>& named) {
    std::vector<double> logarithms;
    for (const ComparedMode& mode : named)
        if (mode.cents)
            logarithms.push_back(std::log(mode.plate->frequency_hz / mode.reference->frequency_hz));
    return std::exp(base::mean(logarithms));
}

std::vector<ComparedMode> compare_unnamed(const Records& plate, const Records& reference,
                                          double ratio) {
    const std::vector<modes::Mode> ours = unnamed(plate), theirs = unnamed(reference);
    std::vector<const modes::Mode*> partner_of(ours.size(), nullptr);
    std::vector<bool> taken(theirs.size(), false);
    const modes::MatchGates gates{.frequency_ratio = k_plates_gate, .expected_ratio = ratio};
    for (const modes::Pair& pair : modes::match(theirs, ours, gates)) {
        partner_of[pair.b] = &theirs[pair.a];
        taken[pair.a] = true;
    }
    std::vector<ComparedMode> result;
    for (std::size_t i = 0; i < ours.size(); ++i)
        result.push_back(compared(&ours[i], partner_of[i], std::nullopt));
    for (std::size_t i = 0; i < theirs.size(); ++i)
        if (!taken[i])
            result.push_back(compared(nullptr, &theirs[i], std::nullopt));
    std::ranges::stable_sort(result, {}, [](const ComparedMode& mode) {
        return mode.plate ? mode.plate->frequency_hz : mode.reference->frequency_hz;
    });
    return result;
}

std::optional<double> ratio_5_to_2(const Records& records) {
    const modes::Mode* ring = numbered(records, 5);
    const modes::Mode* cross = numbered(records, 2);
    if (ring == nullptr || cross == nullptr)
        return std::nullopt;
    return ring->frequency_hz / cross->frequency_hz;
}

} // namespace

const ComparedMode* find_mode(const Comparison& comparison, int number) {
    const auto found = std::ranges::find(comparison.modes, number, &ComparedMode::number);
    return found == comparison.modes.end() ? nullptr : &*found;
}

Comparison compare(const ledger::SessionHistory& plate, const ledger::SessionHistory& reference) {
    Comparison result;
    result.modes = compare_named(plate.modes, reference.modes);
    for (ComparedMode& mode :
         compare_unnamed(plate.modes, reference.modes, usual_ratio(result.modes)))
        result.modes.push_back(std::move(mode));
    result.plate_ratio_5_to_2 = ratio_5_to_2(plate.modes);
    result.reference_ratio_5_to_2 = ratio_5_to_2(reference.modes);
    if (plate.session.mass_g && reference.session.mass_g)
        result.mass_g = *plate.session.mass_g - *reference.session.mass_g;
    result.doubt = unfit_to_compare(plate, Whose::this_session);
    if (result.doubt.empty())
        result.doubt = unfit_to_compare(reference, Whose::reference);
    return result;
}

} // namespace platewright::trends

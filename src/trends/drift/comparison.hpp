#pragma once
#include "ledger/record.hpp"

#include <optional>
#include <string>
#include <vector>

namespace platewright::trends {

/// One mode beside the reference's; either side may lack it.
struct ComparedMode {
    std::optional<int> number;
    std::optional<modes::Mode> plate, reference;
    std::optional<double> hz, hz_sd, cents, q_ratio; ///< plate minus reference, where both have it
    bool beyond_spread = false; ///< the difference exceeds what hold and thread explain (95 %)
};

struct Comparison {
    std::vector<ComparedMode> modes; ///< named first, then by frequency
    std::optional<double> plate_ratio_5_to_2, reference_ratio_5_to_2;
    std::optional<double> mass_g; ///< plate minus reference, where both were weighed
    std::string
        doubt; ///< a sentence where a session's spread or too few taps forbid comparing; else empty
};

/// Of the mode that bears this number; or null.
const ComparedMode* find_mode(const Comparison& comparison, int number);

/// A session beside a reference session (of any plate).
Comparison compare(const ledger::SessionHistory& plate, const ledger::SessionHistory& reference);

} // namespace platewright::trends

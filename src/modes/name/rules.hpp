#pragma once
#include "modes/mode.hpp"
#include "modes/name/expectation.hpp"
#include "modes/name/spot_profile.hpp"
#include "modes/subject.hpp"

#include <functional>
#include <optional>
#include <span>
#include <vector>

namespace platewright::modes {

/// What is held of the modes of a kind of thing before its own past is asked: the names they can
/// bear and the evidence for each. Log-likelihood ratios against its being any other mode.
struct Rules {
    std::vector<int> names;
    std::vector<int> to_settle; ///< names whose doubt is worth a word, the weightiest first
    std::function<double(const Mode&, int name)> log_evidence;
    std::function<double(int name)> log_missing; ///< that the mode was not found at all
    /// Of ln Hz by name, in the order of `names`; nothing where the name is not given.
    std::function<double(std::span<const std::optional<double>>)> log_ratios;
};

/// Modes 1, 2 and 5 of a free plate (expectation.hpp), with what a model of this very plate expects
/// at its spots. What is handed in must outlive the rules.
Rules plate_rules(std::span<const Mode> modes, const Subject& subject,
                  std::span<const SpotProfile> profiles);

/// Where a mode of that name is expected: of a free plate (expected_frequency) or a closed body, of
/// ln Hz. Nothing for a name that no rule knows there.
std::optional<LogBelief> expected_by_rule(int name, const Subject& subject);

/// A0, CBR, B1- and B1+ of a closed body tapped at its bridge. Violin in playing order: A0 near
/// 275, CBR near 400, B1- near 455, B1+ near 535 Hz, B1+ 17 to 21 % above B1-
/// (docs/sources.md#signature- modes); viola and cello from memory, weak, hence wide; without post,
/// bridge and strings A0 lies an eighth lower and the others anywhere within a tenth. CBR hardly
/// radiates and is named only where the evidence is strong.
Rules body_rules(const Subject& subject);

} // namespace platewright::modes

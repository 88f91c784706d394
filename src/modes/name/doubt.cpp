#include "modes/name/doubt.hpp"

#include "modes/name/expectation.hpp"
#include "wording/say.hpp"

#include <algorithm>

namespace platewright::modes {
namespace {

using taps::Spot;

constexpr double k_sure = 0.95;
constexpr double k_own_spot_db = -3.0; // of the loudest it gets anywhere
constexpr double k_possible = 0.03;    // less likely readings are not worth a word

bool is_plate_name(int name) {
    return std::find(k_known_names.begin(), k_known_names.end(), name) != k_known_names.end();
}

bool was_struck(std::span<const Mode> modes, Spot spot) {
    return std::any_of(modes.begin(), modes.end(), [spot](const Mode& mode) {
        return std::any_of(mode.spots.begin(), mode.spots.end(),
                           [spot](const SpotLevel& s) { return s.spot == spot; });
    });
}

/// Where a mode is struck by common practice: it moves most there, and a maker looks for it there.
bool is_its_own(int name, Spot spot) {
    return expected_spot_db(name, spot).value_or(-30.0) >= k_own_spot_db;
}

/// The spot not struck yet that tells most about a name: one of the mode's own as long as there is
/// one, so that the advice is the one the maker knows. A mode that was not heard at all has to be
/// struck where it moves.
std::optional<Spot> best_spot(std::span<const Mode> modes, int name, bool unheard) {
    std::optional<Spot> best;
    double most = 0.3; // below this a tap would not settle anything
    const auto is_open = [&](Spot spot) {
        return spot != Spot::unknown && !taps::is_on_bridge(spot) && !was_struck(modes, spot);
    };
    const bool own_is_open =
        std::any_of(taps::k_spots.begin(), taps::k_spots.end(),
                    [&](Spot spot) { return is_open(spot) && is_its_own(name, spot); });
    for (Spot spot : taps::k_spots) {
        if (!is_open(spot) || (own_is_open && !is_its_own(name, spot)))
            continue;
        const double expected = expected_spot_db(name, spot).value_or(-30.0);
        const double power = unheard ? (expected + 12.0) / 8.0 : telling_power(name, spot);
        if (power > most) {
            most = power;
            best = spot;
        }
    }
    return best;
}

std::string sentence_for(std::span<const Mode> modes, int name, const std::vector<double>& odds,
                         double missing) {
    std::vector<std::size_t> order(odds.size());
    for (std::size_t i = 0; i < order.size(); ++i)
        order[i] = i;
    std::sort(order.begin(), order.end(),
              [&](std::size_t a, std::size_t b) { return odds[a] > odds[b]; });
    const auto hz = [&](std::size_t i) { return wording::figure(modes[i].frequency_hz, 1); };
    const std::string what = mode_text(name);
    if (missing > odds[order[0]])
        return wording::say("There is not enough evidence for {}.", what);
    const bool rival = order.size() > 1 && odds[order[1]] > k_possible;
    if (rival && odds[order[1]] > missing) {
        return wording::say("It is not sure whether {} is at {} Hz or at {} Hz.", what,
                            hz(order[0]), hz(order[1]));
    }
    return wording::say("It is not sure that {} Hz is {}.", hz(order[0]), what);
}

} // namespace

Doubt greatest_doubt(std::span<const Mode> modes, const NameOdds& odds,
                     std::span<const int> names) {
    const NameOdds::One* worst = nullptr;
    int name = 0;
    double least = k_sure;
    for (const int candidate : names) {
        const NameOdds::One& one = odds.by_name.at(candidate);
        const double best = *std::max_element(one.of_mode.begin(), one.of_mode.end());
        if (best < least) {
            least = best;
            worst = &one;
            name = candidate;
        }
    }
    if (worst == nullptr)
        return {};
    Doubt doubt;
    doubt.name = name;
    doubt.sentence = sentence_for(modes, name, worst->of_mode, worst->missing);
    if (is_plate_name(name))
        doubt.ask_spot = best_spot(modes, name, worst->missing > 0.5);
    return doubt;
}

} // namespace platewright::modes

#include "bench/session/figures.hpp"

#include "trends/drift/repeatability.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace platewright::bench {
namespace {

/// The three that makers steer by come first, found or not; a screen may have room for no more.
std::vector<int> numbers_of(const PlateView& view) {
    std::vector<int> numbers = trends::steered_by(view.history.plate.part);
    std::set<int> others;
    for (const modes::NamedMode& mode : view.naming.modes)
        if (mode.name &&
            std::find(numbers.begin(), numbers.end(), mode.name->number) == numbers.end())
            others.insert(mode.name->number);
    numbers.insert(numbers.end(), others.begin(), others.end());
    return numbers;
}

} // namespace

std::vector<ModeView> figures_of(const PlateView& view) {
    std::vector<ModeView> figures;
    for (const int number : numbers_of(view)) {
        ModeView figure{.number = number};
        for (const modes::NamedMode& mode : view.naming.modes)
            if (mode.name && mode.name->number == number)
                figure.now = mode;
        figures.push_back(std::move(figure));
    }
    return figures;
}

std::vector<NamedPartial> named_partials(const std::vector<ModeView>& figures,
                                         const std::vector<modes::Partial>& partials) {
    std::vector<NamedPartial> named;
    for (const ModeView& figure : figures) {
        if (!figure.now)
            continue;
        if (const modes::Partial* own = trends::partial_of(partials, figure.now->mode))
            named.push_back({figure.number, own->frequency_hz});
    }
    return named;
}

} // namespace platewright::bench

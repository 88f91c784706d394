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

/// How the track stood when the open session was made: the change into it, not into a later
/// session.
void add_changes(ModeView& figure, const trends::TrackDrift& drift, std::size_t session) {
    const trends::Change* step = trends::step_into(drift, session);
    if (step == nullptr)
        return;
    figure.since_last = *step;
    if (step == &drift.steps.back())
        figure.since_beginning = drift.since_beginning;
}

} // namespace

std::vector<ModeView> figures_of(const PlateView& view) {
    std::vector<ModeView> figures;
    const std::size_t session =
        index_of(view.history.sessions, view.session).value_or(view.history.sessions.size());
    for (const int number : numbers_of(view)) {
        ModeView figure{.number = number};
        for (const modes::NamedMode& mode : view.naming.modes)
            if (mode.name && mode.name->number == number)
                figure.now = mode;
        for (std::size_t i = 0; i < view.drift.tracks.size(); ++i) {
            const trends::TrackDrift& drift = view.drift.tracks[i];
            if (!drift.track.name || drift.track.name->number != number)
                continue;
            add_changes(figure, drift, session);
            if (i < view.forecasts.size())
                figure.forecast = view.forecasts[i];
        }
        if (view.comparison)
            for (const trends::ComparedMode& compared : view.comparison->modes)
                if (compared.number == number)
                    figure.against_reference = compared;
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

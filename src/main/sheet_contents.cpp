#include "main/sheet_contents.hpp"

#include "screen/pictures.hpp"
#include "screen/plate_pictures.hpp"
#include "trends/remarks.hpp"

namespace platewright::cli {

report::PlateSheet sheet_of(ledger::PlateHistory history, std::optional<trends::Comparison> comparison,
                            std::string reference) {
    report::PlateSheet sheet;
    sheet.history = std::move(history);
    sheet.drift = trends::drift(sheet.history);
    for (const trends::TrackDrift& track : sheet.drift.tracks)
        sheet.forecasts.push_back(trends::forecast(track.track, sheet.history));
    sheet.remarks = trends::remarks(sheet.history, sheet.drift, sheet.forecasts);
    sheet.comparison = std::move(comparison);
    sheet.reference = std::move(reference);
    sheet.chart = screen::drift_picture(sheet.history, sheet.drift, sheet.forecasts,
                                        sheet.comparison ? &*sheet.comparison : nullptr);
    const auto mapped = sheet.history.sessions.empty()
                            ? std::nullopt
                            : trends::session_with_map(sheet.history, sheet.history.sessions.size() - 1);
    if (auto review = mapped ? trends::review_map(sheet.history, *mapped) : base::Fault{"no map"}) {
        sheet.map_picture = screen::thickness_picture(*review, sheet.history.form->two_piece);
        sheet.map = *std::move(review);
    }
    return sheet;
}

} // namespace platewright::cli

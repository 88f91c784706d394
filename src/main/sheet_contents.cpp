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

report::WoodSheet wood_sheet_of(ledger::WoodHistory history, std::vector<std::string> plates,
                                const std::optional<WoodNamed>& beside, std::optional<double> moisture_pct) {
    report::WoodSheet sheet{std::move(history), {}, std::move(plates), {}};
    sheet.figures = trends::wood_figures(sheet.history, moisture_pct);
    if (beside) {
        report::WoodBeside other{beside->label, trends::wood_figures(beside->history, moisture_pct), {}, {}};
        constexpr double k_percent = 100.0;
        other.share = trends::thickness_for(sheet.figures, other.figures, k_percent);
        const auto likenesses = trends::nearest({&sheet.figures, 1}, other.figures);
        if (!likenesses.empty())
            other.likeness = likenesses.front();
        sheet.beside = std::move(other);
    }
    return sheet;
}

} // namespace platewright::cli

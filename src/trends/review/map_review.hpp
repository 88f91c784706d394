#pragma once
#include "base/result.hpp"
#include "ledger/record.hpp"
#include "plate/plate_model.hpp"
#include "plate/thickness/thickness.hpp"
#include "wording/facts.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace platewright::trends {

/// What came off since an earlier map; both surfaces read on one grid.
struct MapChange {
    std::size_t session = 0; ///< index of the earlier one
    double mean_mm = 0.0;    ///< taken off, mean over the plate
    plate::Point deepest;    ///< where most was taken
    double deepest_mm = 0.0;
    double deepest_sd_mm = 0.0;     ///< from both maps
    std::optional<double> map_g;    ///< mass the two maps say came off
    std::optional<double> scales_g; ///< and the scales; nothing where f-holes or a bar came between
};

/// The thickness map of one session, described.
struct MapReview {
    std::size_t session = 0;                        ///< index into PlateHistory::sessions
    std::shared_ptr<const plate::PlateModel> model; ///< outline, fittings, and a mesh to draw on
    plate::ThicknessMap map;
    plate::ThicknessFacts facts;
    double predicted_g = 0.0;    ///< plate with its fittings, by map, form and density
    double density_kg_m3 = 0.0;  ///< that was used
    bool density_is_own = false; ///< the plate's, not the handbook's
    std::optional<double> weighed_g;
    std::optional<double> implied_density_kg_m3; ///< with which map and scales agree
    std::optional<MapChange> change;
    std::vector<std::string> remarks; ///< sentences for the maker
};

/// Describes the map of a session. Fault: no shape said, no readings there, or what
/// plate::fault_in finds in them. Cost: about 0.2 s. Threads: pure.
base::Result<MapReview> review_map(const ledger::PlateHistory& history, std::size_t session);

/// What a map shows at a glance, in the language of now; the same in window, terminal and paper.
wording::Facts facts_of(const MapReview& review, const ledger::PlateHistory& history);
/// Where one more reading helps most, and how much; a sentence.
std::string next_reading_words(const plate::ThicknessFacts& facts);

/// A map's thickness at the model's nodes.
Eigen::VectorXd mm_at_nodes(const plate::PlateModel& model, const plate::ThicknessMap& map);

/// The newest session up to `last` with caliper readings; nothing where there is none.
std::optional<std::size_t> session_with_map(const ledger::PlateHistory& history, std::size_t last);

} // namespace platewright::trends

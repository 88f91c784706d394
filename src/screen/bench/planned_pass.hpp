#pragma once
#include "plot/plate/plate_picture.hpp"
#include "screen/carve/carving_sheet.hpp"
#include "trends/model/plan_zones.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace platewright::screen {

class OwnOutline;

/// The pass that was planned in the open session, as it is taken: the plate from the inside, where
/// wood comes off in words, how much. It is drawn by the plate's model, which is asked for where a
/// plan was made and for no other cause.
class PlannedPass {
public:
    /// Whether one is to be shown: it was planned in the open session, taps suffice, and nothing
    /// says stop.
    bool is_due(const ViewContext& context) const;
    /// While it can't be drawn: why not, over the bare plate.
    void draw(const ViewContext& context, plot::Box box, const OwnOutline& outline);

private:
    void follow(const ViewContext& context);
    /// Below the picture, most important first.
    std::vector<std::string> sentences(const ViewContext& context) const;

    StudyAsked asked_;
    std::shared_ptr<const trends::PlateStudy> study_; // what is drawn was made from it,
    ledger::PlanRecord plan_;                         // and from this,
    double named_g_ = 0.0; // the decision's grams; 0: the pass as it was planned
    wording::Language language_ = wording::Language::english; // in these words
    plot::PlatePicture picture_;
    std::string sides_;                   // from which it is seen
    std::vector<trends::PlanZone> zones_; // with wood to take, the most first
    double rim_mm_ = 0.0;                 // from the deepest place to the edge
    double pass_g_ = 0.0;
    std::string trouble_; // why there is no picture
};

} // namespace platewright::screen

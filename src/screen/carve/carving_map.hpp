#pragma once
#include "screen/carve/carving_sheet.hpp"
#include "screen/fields/fields.hpp"

#include <string>
#include <vector>

namespace platewright::screen {

/// Caliper readings: clicked on the plate and typed, or pasted; and what the map says of the plate.
class MapSheet {
public:
    plot::PlatePicture picture(const ViewContext& context) const;
    void side(const ViewContext& context, const PlateSpot& spot);

private:
    void follow(const ViewContext& context);
    void facts(const ViewContext& context) const;
    void entry(const ViewContext& context, const PlateSpot& spot);
    void add(const ViewContext& context);
    void take_out(const ViewContext& context);
    void paste(const ViewContext& context);

    ledger::Id session_ = 0;
    std::int64_t map_ = 0; // whose readings the draft began with
    std::vector<plate::ThicknessReading> draft_;
    bool changed_ = false;
    std::optional<plate::Point> at_; // where the next reading was taken
    bool wants_focus_ = false;
    std::string typed_, pasted_;
    Complaint complaint_;
};

} // namespace platewright::screen

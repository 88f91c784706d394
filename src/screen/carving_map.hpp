#pragma once
#include "screen/carving_sheet.hpp"
#include "screen/fields.hpp"

#include <string>
#include <vector>

namespace platewright::screen {

/// Caliper readings: clicked on the plate and typed, or pasted; and what the map says of the plate.
class MapSheet {
public:
    plot::PlatePicture picture(const Sight& sight) const;
    void side(const Sight& sight, const PlateSpot& spot);

private:
    void follow(const Sight& sight);
    void facts(const Sight& sight) const;
    void entry(const Sight& sight, const PlateSpot& spot);
    void add(const Sight& sight);
    void take_out(const Sight& sight);
    void paste(const Sight& sight);

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

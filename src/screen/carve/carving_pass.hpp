#pragma once
#include "screen/carve/carving_sheet.hpp"
#include "screen/fields/typed.hpp"

#include <string>
#include <vector>

namespace platewright::screen {

/// A plan: where modes should go, where the next pass takes wood, what is expected, and how the
/// last plan turned out.
class PassSheet {
public:
    plot::PlatePicture picture(const ViewContext& context) const;
    void side(const ViewContext& context);

private:
    void wishes(const ViewContext& context);
    void ask(const ViewContext& context, ledger::Id reference);
    void answer(const ViewContext& context, const trends::PlanAnswer& answer);
    void hindsight(const ViewContext& context, const trends::PlanHindsight& hindsight) const;

    void fill_in(const ledger::PlateHistory& history);

    struct Wish {
        int number = 0;
        TypedFigure hz = {}; // filled with the target kept with the plate
    };
    std::vector<Wish> wishes_; // 1, 2, 5, and whatever else has a target
    ledger::Id plate_ = 0;     // whose limits and wishes are typed
    TypedFigure least_, deepest_, platform_, share_;
    bool alike_in_ratio_ = false;
    bool lopsided_ = false;
    bool whole_ = false; // the picture shows all of the plan
    std::string complaint_;
};

} // namespace platewright::screen

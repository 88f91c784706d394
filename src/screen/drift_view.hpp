#pragma once
#include "plot/drift.hpp"
#include "screen/chart_pane.hpp"
#include "screen/sight.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace platewright::screen {

/// What setting the plate's sessions over to one air does to their figures; the plate's sessions
/// have to be set over. Nothing of it is hidden from who sees the figures.
std::string air_remark(const Sight& sight);

/// How the plate's modes moved as wood came off, what the next gram is likely to do, and what is to
/// be done.
class DriftView {
public:
    /// `decides`: the decision stands above; beside the bench it stands there.
    void draw(const Sight& sight, plot::Box area, bool decides = true);

private:
    static void decision(const Sight& sight, plot::Box& area);
    void choices(const Sight& sight, plot::Box box);
    void air_switch(const Sight& sight, const plot::Box& box) const;
    void in_one_air(const Sight& sight, const plot::Box& box, std::string_view remark) const;
    plot::Frame chart(const Sight& sight, plot::Box box);
    void pointer(const Sight& sight, const plot::Frame& frame) const;

    std::optional<plot::DriftAgainst> against_; // nothing: as the plate's sessions allow
    plot::DriftIn in_ = plot::DriftIn::hertz;
    bool all_modes_ = false;
    plot::DriftPicture picture_; // as it is shown
    ChartPane pane_;
};

} // namespace platewright::screen

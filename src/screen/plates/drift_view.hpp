#pragma once
#include "plot/drift.hpp"
#include "screen/draw/chart_pane.hpp"
#include "screen/view_context.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace platewright::screen {

/// What setting the plate's sessions over to one air does to their figures; the plate's sessions
/// have to be set over. Nothing of it is hidden from who sees the figures.
std::string air_remark(const ViewContext& context);

/// How the plate's modes moved as wood came off, what the next gram is likely to do, and what is to
/// be done.
class DriftView {
public:
    /// `decides`: the decision stands above; beside the bench it stands there.
    void draw(const ViewContext& context, plot::Box area, bool decides = true);

private:
    static void decision(const ViewContext& context, plot::Box& area);
    void choices(const ViewContext& context, plot::Box box);
    void air_switch(const ViewContext& context, const plot::Box& box) const;
    void in_one_air(const ViewContext& context, const plot::Box& box,
                    std::string_view remark) const;
    plot::Frame chart(const ViewContext& context, plot::Box box);
    void pointer(const ViewContext& context, const plot::Frame& frame) const;

    std::optional<plot::DriftAgainst> against_; // nothing: as the plate's sessions allow
    plot::DriftIn in_ = plot::DriftIn::hertz;
    bool all_modes_ = false;
    plot::DriftPicture picture_; // as it is shown
    ChartPane pane_;
};

} // namespace platewright::screen

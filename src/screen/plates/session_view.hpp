#pragma once
#include "screen/draw/chart_pane.hpp"
#include "screen/plates/session_list.hpp"
#include "screen/view_context.hpp"

namespace platewright::screen {

/// One session looked into: its taps, which can be heard again; the fit of one of them over its
/// spectrum, with what the fit leaves over; its notes.
class SessionView {
public:
    void draw(const ViewContext& context, plot::Box area);

private:
    void head(const ViewContext& context, plot::Box box, std::size_t index) const;
    void taps(const ViewContext& context, const plot::Box& box,
              const ledger::SessionHistory& session);
    void forced(const ViewContext& context, const ledger::SessionHistory& session) const;
    void correct(const ViewContext& context, const ledger::SessionHistory& session);
    void chart(const ViewContext& context, plot::Box box);
    void choose(const ViewContext& context, const ledger::SessionHistory& session);

    ledger::Id tap_ = 0; // that is looked into
    ChartPane pane_;
    PutAway away_;
};

} // namespace platewright::screen

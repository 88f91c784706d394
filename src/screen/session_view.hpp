#pragma once
#include "screen/chart_pane.hpp"
#include "screen/session_list.hpp"
#include "screen/sight.hpp"

namespace platewright::screen {

/// One session looked into: its taps, which can be heard again; the fit of one of them over its
/// spectrum, with what the fit leaves over; its notes.
class SessionView {
public:
    void draw(const Sight& sight, plot::Box area);

private:
    void head(const Sight& sight, plot::Box box, std::size_t index) const;
    void taps(const Sight& sight, const plot::Box& box, const ledger::SessionHistory& session);
    void forced(const Sight& sight, const ledger::SessionHistory& session) const;
    void correct(const Sight& sight, const ledger::SessionHistory& session);
    void chart(const Sight& sight, plot::Box box);
    void choose(const Sight& sight, const ledger::SessionHistory& session);

    ledger::Id tap_ = 0; // that is looked into
    ChartPane pane_;
    PutAway away_;
};

} // namespace platewright::screen

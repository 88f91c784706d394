#pragma once
#include "screen/carving_sheet.hpp"
#include "screen/session_list.hpp"

#include <string>

namespace platewright::screen {

/// What can be tried and undone: a mass laid on a place to weigh the modes there, and a cut on the
/// model with what would make its forecast surer.
class TrialSheet {
public:
    plot::PlatePicture picture(const Sight& sight) const;
    void side(const Sight& sight, const PlateSpot& spot);

private:
    void weigh(const Sight& sight, const ledger::SessionHistory& session);
    void kept(const Sight& sight, const ledger::SessionHistory& session);
    void cut(const Sight& sight);
    void result(const Sight& sight, const trends::CutTrial& trial);

    std::optional<plate::Point> at_;
    std::size_t thing_ = 0;
    std::string mass_ = "1", doubt_ = "2", depth_ = "0.2", across_ = "60";
    std::string complaint_;
    PutAway away_;
};

} // namespace platewright::screen

#pragma once
#include "screen/carve/carving_sheet.hpp"
#include "screen/plates/session_list.hpp"

#include <string>

namespace platewright::screen {

/// What can be tried and undone: a mass laid on a place to weigh the modes there, and a cut on the
/// model with what would make its forecast surer.
class TrialSheet {
public:
    plot::PlatePicture picture(const ViewContext& context) const;
    void side(const ViewContext& context, const PlateSpot& spot);

private:
    void weigh(const ViewContext& context, const ledger::SessionHistory& session);
    void kept(const ViewContext& context, const ledger::SessionHistory& session);
    void cut(const ViewContext& context);
    void result(const ViewContext& context, const trends::CutTrial& trial);

    std::optional<plate::Point> at_;
    std::size_t thing_ = 0;
    std::string mass_ = "1", doubt_ = "2", depth_ = "0.2", across_ = "60";
    std::string complaint_;
    PutAway away_;
};

} // namespace platewright::screen

#pragma once
#include "screen/carve/carving_sheet.hpp"
#include "screen/fields/fields.hpp"
#include "screen/plates/session_list.hpp"

#include <string>

namespace platewright::screen {

/// What hand and eye find: notes pinned to places, and how far the plate gives under a load beside
/// what the model says.
class HandSheet {
public:
    plot::PlatePicture picture(const ViewContext& context) const;
    void side(const ViewContext& context, const PlateSpot& spot);

private:
    void pins(const ViewContext& context, const ledger::SessionHistory& session);
    void flexes(const ViewContext& context, const ledger::SessionHistory& session);
    std::optional<ledger::FlexRecord> typed_flex() const;

    std::optional<plate::Point> at_;
    bool wants_focus_ = false;
    std::string words_;
    std::size_t kind_ = 0;
    std::string span_ = "300", load_ = "500", deflection_;
    Complaint complaint_;
    PutAway away_;
};

} // namespace platewright::screen

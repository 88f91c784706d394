#pragma once
#include "screen/fields/fields.hpp"
#include "screen/fields/typed.hpp"
#include "screen/files/folder_list.hpp"
#include "screen/view_context.hpp"

#include <string>
#include <utility>

namespace platewright::screen {

/// What leaves the ledger and comes into it: paper, bundles, recordings, copies of the database,
/// the bin.
class FilesView {
public:
    void draw(const ViewContext& context, plot::Box area);

private:
    enum class Sheet { paper, recordings, bundles, copies, bin };

    void keep_listed(const ViewContext& context);
    void choices(const ViewContext& context);
    void paper(const ViewContext& context);
    void woods(const ViewContext& context);
    void folder_fields(const ViewContext& context);
    std::filesystem::path folder(const ViewContext& context) const;
    void recordings(const ViewContext& context);
    void enter(const ViewContext& context);
    void bundles(const ViewContext& context);
    void take_out(const ViewContext& context);
    void take_in(const ViewContext& context);
    void copies(const ViewContext& context);
    void bin(const ViewContext& context);
    void errand(const ViewContext& context);

    Sheet sheet_ = Sheet::paper;
    std::pair<const void*, const void*>
        listed_; // what of the ledger copies and bin were listed for
    bool asked_stock_ = false;
    bool figures_ = false, prefer_bundle_ = false;
    std::string folder_typed_;
    std::filesystem::path looked_at_; // a bundle whose content has been looked at
    std::string copy_;                // asked to be put back: once more, to be sure
    std::size_t stage_ = 1;
    std::string date_;
    TypedFigure mass_;
    Complaint complaint_;
    std::string told_;
    FolderList sounds_{
        {".wav", ".flac", ".aiff", ".aif", ".ogg", ".oga", ".caf", ".w64", ".rf64", ".au"}, true};
    FolderList bundles_{{".platewright", ".zip"}, false};
};

} // namespace platewright::screen

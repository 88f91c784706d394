#include "screen/files/folder_list.hpp"

#include "screen/fields/fields.hpp"

#include <algorithm>
#include <cctype>
#include <chrono>
#include <cstdlib>

namespace platewright::screen {
namespace {

namespace fs = std::filesystem;

fs::path home() {
    const char* value = std::getenv("HOME");
    return value != nullptr && *value != '\0' ? fs::path(value) : fs::current_path();
}

bool ends_as_wanted(const fs::path& file, const std::vector<std::string>& endings) {
    std::string ending = file.extension().string();
    std::ranges::transform(ending, ending.begin(),
                           [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return std::ranges::find(endings, ending) != endings.end();
}

} // namespace

FolderList::Content FolderList::read(const fs::path& folder,
                                     const std::vector<std::string>& endings) {
    Content content{.folder = folder, .folders = {}, .files = {}};
    std::error_code error;
    for (fs::directory_iterator entry(folder, fs::directory_options::skip_permission_denied, error),
         end;
         !error && entry != end; entry.increment(error)) {
        const fs::path& path = entry->path();
        std::error_code ignored;
        if (path.filename().string().starts_with('.')) {
            continue;
        }
        if (entry->is_directory(ignored)) {
            content.folders.push_back(path);
        } else if (ends_as_wanted(path, endings)) {
            content.files.push_back(path);
        }
    }
    content.readable = !error;
    std::ranges::sort(content.folders);
    std::ranges::sort(content.files);
    return content;
}

void FolderList::go_to(const fs::path& folder) {
    typed_ = folder.string();
    coming_ = std::async(std::launch::async, read, folder, endings_);
}

void FolderList::keep_content(const ViewContext& context) {
    if (content_.folder.empty() && !coming_.valid()) {
        go_to(home());
    }
    if (!coming_.valid()) {
        return;
    }
    if (coming_.wait_for(std::chrono::seconds(0)) == std::future_status::ready) {
        content_ = coming_.get();
        chosen_.clear();
    } else {
        context.owed = std::max(context.owed, 1); // looked at again with the next picture
    }
}

void FolderList::choose(const fs::path& file) {
    const auto found = std::ranges::find(chosen_, file);
    if (found != chosen_.end()) {
        chosen_.erase(found);
        return;
    }
    if (!several_) {
        chosen_.clear();
    }
    chosen_.push_back(file);
    std::ranges::sort(chosen_);
}

void FolderList::draw(const ViewContext& context, const char* id, double height) {
    keep_content(context);
    ImGui::PushID(id);
    if (field(context, say("folder"), typed_)) {
        go_to(fs::path(typed_));
    }
    // A list of its own that scrolls; where parts are stacked the view scrolls, and one within it
    // would catch the wheel.
    const bool boxed = !context.stacks;
    if (boxed) {
        ImGui::BeginChild("files", {0.0F, context.look.px(height)}, true,
                          ImGuiWindowFlags_NavFlattened);
    }
    rows(context);
    if (boxed) {
        ImGui::EndChild();
    }
    ImGui::PopID();
}

void FolderList::rows(const ViewContext& context) {
    if (!content_.readable) {
        complaint(context,
                  say("This folder can't be read: type another one's path, or check its disk."));
        return;
    }
    int number = 0;
    const fs::path above = content_.folder.parent_path();
    if (!above.empty() && above != content_.folder &&
        row(context, ++number, std::string("\u2191 ") + std::string(say("the folder above")), {},
            false)) {
        go_to(above);
    }
    for (const fs::path& folder : content_.folders) {
        if (row(context, ++number, folder.filename().string() + "/", {}, false)) {
            go_to(folder);
        }
    }
    for (const fs::path& file : content_.files) {
        if (row(context, ++number, file.filename().string(), {},
                std::ranges::count(chosen_, file) > 0)) {
            choose(file);
        }
    }
    if (content_.files.empty()) {
        std::string all;
        for (const std::string& ending : endings_) {
            all += (all.empty() ? "" : ", ") + ending;
        }
        faint_text(context, say("No file here that ends in {}.", all));
    }
}

} // namespace platewright::screen

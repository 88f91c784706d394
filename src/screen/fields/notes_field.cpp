#include "screen/fields/notes_field.hpp"

#include "screen/fields/fields.hpp"

#include <algorithm>
#include <array>
#include <functional>

namespace platewright::screen {
namespace {

bool is_soft(std::string_view text, std::size_t i) {
    return text[i] == '\n' && i > 0 && text[i - 1] == ' ';
}

std::string_view without_last_blanks(std::string_view line) {
    const std::size_t end = line.find_last_not_of(' ');
    return line.substr(0, end == std::string_view::npos ? 0 : end + 1);
}

void break_line(std::string_view words, const std::function<bool(std::string_view)>& fits,
                std::string& out) {
    std::string line;
    while (!words.empty()) {
        const std::size_t end = words.find(' ');
        const std::size_t after = words.find_first_not_of(' ', std::min(end, words.size()));
        const std::string_view next = words.substr(0, after);
        words.remove_prefix(next.size());
        if (!line.empty() && line.back() == ' ' &&
            !fits(without_last_blanks(line + std::string(next)))) {
            out += '\n';
            line.clear();
        }
        line += next;
        out += next;
    }
}

} // namespace

std::string softly_broken(std::string_view words,
                          const std::function<bool(std::string_view line)>& fits) {
    std::string out;
    for (;;) {
        const std::size_t end = words.find('\n');
        if (end == std::string_view::npos) {
            break_line(words, fits, out);
            return out;
        }
        break_line(without_last_blanks(words.substr(0, end)), fits, out);
        out += '\n';
        words.remove_prefix(end + 1);
    }
}

std::string without_soft_breaks(std::string_view broken) {
    std::string out;
    for (std::size_t i = 0; i < broken.size(); ++i) {
        if (!is_soft(broken, i)) {
            out += broken[i];
        }
    }
    return out;
}

std::size_t place_in_broken(std::string_view broken, std::size_t bytes) {
    std::size_t i = 0;
    for (std::size_t gone = 0; i < broken.size(); ++i) {
        if (is_soft(broken, i)) {
            continue;
        }
        if (gone == bytes) {
            return i;
        }
        ++gone;
    }
    return i;
}

namespace {

/// Notes while they are shown and written.
struct Notes {
    std::string shown; // broken to the width
    float width = 0.0F;
    std::function<bool(std::string_view)> fits() const {
        return [most = width](std::string_view line) {
            return ImGui::CalcTextSize(line.data(), line.data() + line.size()).x <= most;
        };
    }
};

/// Breaks what is being written anew, and keeps the writing mark where it is. A break of the
/// maker's own comes as a letter that nothing else can be, since before it blanks are left out.
int keep_broken(ImGuiInputTextCallbackData* data) {
    constexpr ImWchar k_own_break = 0xE000;
    static constexpr std::array k_bytes{'\xEE', '\x80', '\x80'}; // the same in UTF-8
    constexpr std::string_view k_own_break_utf8(k_bytes.data(), k_bytes.size());
    auto& notes = *static_cast<Notes*>(data->UserData);
    if (data->EventFlag == ImGuiInputTextFlags_CallbackResize) {
        notes.shown.resize(static_cast<std::size_t>(data->BufTextLen));
        data->Buf = notes.shown.data();
        return 0;
    }
    if (data->EventFlag == ImGuiInputTextFlags_CallbackCharFilter) {
        data->EventChar = data->EventChar == '\n' ? k_own_break : data->EventChar;
        return 0;
    }
    const auto plain = [&](std::string_view text) {
        std::string out = without_soft_breaks(text);
        for (std::size_t at; (at = out.find(k_own_break_utf8)) != std::string::npos;) {
            std::size_t from = at;
            while (from > 0 && out[from - 1] == ' ') {
                --from;
            }
            out.replace(from, at + k_own_break_utf8.size() - from, "\n");
        }
        return out;
    };
    const std::string_view text(data->Buf, static_cast<std::size_t>(data->BufTextLen));
    const std::size_t before =
        plain(text.substr(0, static_cast<std::size_t>(data->CursorPos))).size();
    const std::string broken = softly_broken(plain(text), notes.fits());
    if (broken != text) {
        data->DeleteChars(0, data->BufTextLen);
        data->InsertChars(0, broken.data(), broken.data() + broken.size());
    }
    data->CursorPos = static_cast<int>(place_in_broken(broken, before));
    data->SelectionStart = data->SelectionEnd = data->CursorPos;
    return 0;
}

} // namespace

void notes_field(const ViewContext& context, std::string_view label, std::string& value) {
    label_line(context, label);
    const float width = item_width(context, 0.0);
    const ImGuiStyle& style = ImGui::GetStyle();
    Notes notes{{}, width - 2.0F * style.FramePadding.x - style.ScrollbarSize};
    notes.shown = softly_broken(value, notes.fits());
    ImGui::PushID(label.data(), label.data() + label.size());
    constexpr ImGuiInputTextFlags k_all = ImGuiInputTextFlags_CallbackResize |
                                          ImGuiInputTextFlags_CallbackCharFilter |
                                          ImGuiInputTextFlags_CallbackEdit;
    if (ImGui::InputTextMultiline("##notes", notes.shown.data(), notes.shown.capacity() + 1,
                                  {width, context.look.px(86)}, k_all, keep_broken, &notes)) {
        value = without_soft_breaks(notes.shown);
    }
    ImGui::PopID();
    note_item(context, "[" + std::string(label) + "]");
}

} // namespace platewright::screen

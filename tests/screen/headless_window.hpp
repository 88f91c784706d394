#pragma once
#include "screen/desk.hpp"
#include "support/catch.hpp"
#include "support/sample_bench.hpp"

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

namespace platewright::test {

/// The window without a window: Dear ImGui draws into memory, and the test reads what is written
/// there, presses what it reads and strikes keys, as a maker does.
class HeadlessWindow {
public:
    explicit HeadlessWindow(bench::Snapshot now, float width = 1280, float height = 800,
                            double text_size = 1.0,
                            wording::Language language = wording::Language::english,
                            screen::Outside outside = {})
        : now_(std::move(now)),
          desk_([this](bench::Command c) { sent.push_back(std::move(c)); }, std::move(outside)) {
        ImGui::CreateContext();
        ImGuiIO& io = ImGui::GetIO();
        io.IniFilename = nullptr;
        io.DisplaySize = {width, height};
        io.DeltaTime = 1.0F / 60.0F;
#if IMGUI_VERSION_NUM < 18700
        for (int key = 0; key < ImGuiKey_COUNT; ++key) {
            io.KeyMap[key] = key; // the old way asks for one; no key goes in through it here
        }
#endif
        io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
        desk_.wish({.language = language}); // whatever the machine speaks
        look_.scale =
            screen::scale_for(static_cast<double>(width), static_cast<double>(height), text_size);
        look_.fonts = screen::cut_fonts(look_.scale);
        look_.witness = &seen;
        unsigned char* pixels = nullptr;
        int w = 0;
        int h = 0;
        io.Fonts->GetTexDataAsRGBA32(&pixels, &w, &h);
        pictures(3);
    }
    ~HeadlessWindow() {
        ImGui::DestroyContext();
        wording::speak(wording::Language::english, wording::DecimalMark::point);
    }
    HeadlessWindow(const HeadlessWindow&) = delete;
    HeadlessWindow& operator=(const HeadlessWindow&) = delete;

    void pictures(int count) {
        constexpr int k_most = 12; // what moves asks for another picture for ever
        for (int i = 0; i < std::min(count, k_most); ++i) {
            seen.clear();
            look_.palette =
                desk_.preferences().dark ? &plot::dark_palette() : &plot::light_palette();
            screen::dress(look_);
            ImGui::NewFrame();
            now_.executed = executes ? static_cast<std::uint64_t>(-1) : 0;
            count += desk_.draw(now_, look_, keys_);
            ImGui::Render();
        }
    }
    void show(bench::Snapshot now) {
        now_ = std::move(now);
        pictures(2);
    }
    bench::Snapshot& now() { return now_; }
    bool executes = true; ///< the bench: what was asked is in the next picture
    screen::Desk& desk() { return desk_; }
    double scale() const { return look_.scale; }

    void strike(screen::Key key) {
        keys_.press(key);
        pictures(2);
    }
    /// Without a picture after it.
    void press_key(char32_t letter) { keys_.type(letter); }
    void strike(char32_t letter) {
        keys_.type(letter);
        pictures(4); // a field that wants the writing mark has it after some
    }
    /// Into the field that has the writing mark, in place of what is there.
    void write(const std::string& words) {
        REQUIRE(ImGui::GetIO().WantTextInput);
        for (const char letter : words) {
            ImGui::GetIO().AddInputCharacter(static_cast<unsigned char>(letter));
        }
        pictures(3);
    }

    const screen::Seen* find(std::string_view words) const {
        const auto found = std::find_if(seen.begin(), seen.end(),
                                        [words](const auto& s) { return s.words == words; });
        return found == seen.end() ? nullptr : &*found;
    }
    /// The same, looked for from the top of a view that scrolls to its end.
    const screen::Seen* find_scrolling(std::string_view words) {
        const screen::Seen* at = find(words);
        if (at == nullptr) {
            strike(screen::Key::home);
            at = find(words);
        }
        while (at == nullptr && page_down()) {
            at = find(words);
        }
        return at;
    }
    /// Whether there was more to be seen further down.
    bool page_down() {
        const auto before = seen;
        strike(screen::Key::page_down);
        return !std::equal(before.begin(), before.end(), seen.begin(), seen.end(),
                           [](const auto& a, const auto& b) {
                               return a.words == b.words && a.where.top == b.where.top;
                           });
    }
    /// A key that moves the focus; bookworm's Dear ImGui and trixie's take it in differently.
    void move_focus(ImGuiKey key) {
        for (const bool down : {true, false}) {
#if IMGUI_VERSION_NUM >= 18700
            ImGui::GetIO().AddKeyEvent(key, down);
#else
            ImGui::GetIO().KeysDown[key] = down;
#endif
            pictures(2);
        }
    }
    bool reads(std::string_view words) const { return find(words) != nullptr; }
    /// Whether the words stand anywhere, also broken over lines.
    bool reads_within(std::string_view words) const {
        std::string all;
        for (const auto& s : seen) {
            all += s.words + " ";
        }
        return all.find(words) != std::string::npos;
    }
    void point_at(plot::Point at) {
        mouse(at, false);
        pictures(2);
    }
    /// Turned where the mouse is; up looks closer.
    void wheel(float steps) {
#if IMGUI_VERSION_NUM >= 18700
        ImGui::GetIO().AddMouseWheelEvent(0.0F, steps);
#else
        ImGui::GetIO().MouseWheel = steps;
#endif
        pictures(2);
    }
    void press(std::string_view words) {
        INFO("to be pressed: " << words);
        const screen::Seen* at = find_scrolling(words);
        REQUIRE(at != nullptr);
        press({0.5 * (at->where.left + at->where.right), 0.5 * (at->where.top + at->where.bottom)});
    }
    void press(plot::Point at) {
        mouse(at, false);
        pictures(2);
        mouse(at, true);
        pictures(1);
        mouse(at, false);
        pictures(3);
    }

    template <class Wanted>
    std::optional<Wanted> last_sent() const {
        for (auto c = sent.rbegin(); c != sent.rend(); ++c) {
            if (const auto* wanted = std::get_if<Wanted>(&*c)) {
                return *wanted;
            }
        }
        return std::nullopt;
    }

    std::vector<bench::Command> sent;
    std::vector<screen::Seen> seen;

private:
    static void mouse(plot::Point at, bool down) {
        ImGuiIO& io = ImGui::GetIO();
#if IMGUI_VERSION_NUM >= 18700
        io.AddMousePosEvent(static_cast<float>(at.x), static_cast<float>(at.y));
        io.AddMouseButtonEvent(0, down);
#else
        io.MousePos = screen::vec(at);
        io.MouseDown[0] = down;
#endif
    }
    bench::Snapshot now_;
    screen::Look look_;
    screen::Keys keys_;
    screen::Desk desk_;
};

} // namespace platewright::test

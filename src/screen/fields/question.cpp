#include "screen/fields/question.hpp"

#include "screen/draw/parts.hpp"
#include "screen/native_window.hpp"
#include "screen/settings/preferences_file.hpp"

#include <GLFW/glfw3.h>
#include <imgui.h>
#include <imgui_impl_glfw.h>
#include <imgui_impl_opengl3.h>

#include <algorithm>
#include <optional>

namespace platewright::screen {
namespace {

constexpr int k_settling_pictures = 3; // until hovering and focus have settled

constexpr ImGuiWindowFlags k_whole =
    ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings;

struct Before { // what a ViewContext wants and a question has no use for
    bench::Snapshot nothing;
    std::function<void(bench::Command)> unsent = [](const bench::Command&) {};
    Place place = Place::plates;
    ledger::Id session = 0;
    Outside outside;
    int owed = 0;
    double wake_in_s = 0.0, stacked_to = 0.0;
    ledger::Id closed_session = 0;
};

/// One picture of the question; the answer where it was given.
std::optional<bool> draw(const Question& question, const Look& look, Keys& keys,
                         Preferences& preferences) {
    Before before;
    const ViewContext context{
        before.nothing, before.unsent,        look,           keys,
        before.place,   preferences,          before.session, before.outside,
        before.owed,    before.wake_in_s,     false,          before.stacked_to,
        false,          before.closed_session};
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    ImGui::SetNextWindowPos({0.0F, 0.0F});
    ImGui::SetNextWindowSize(size);
    ImGui::Begin("question", nullptr, k_whole);
    plot::Box area = inset({0.0, 0.0, static_cast<double>(size.x), static_cast<double>(size.y)},
                           28.0 * look.scale);
    plot::Box buttons = take_bottom(area, 52.0 * look.scale);
    std::optional<bool> answer;
    if (!question.yes.empty() &&
        (press(context, question.yes, take_left(buttons, 320.0 * look.scale), say("Enter"),
               Stress::strong) ||
         keys.take(Key::enter)))
        answer = true;
    take_left(buttons, 16.0 * look.scale);
    if (press(context, question.no, take_left(buttons, 320.0 * look.scale), "Esc") ||
        keys.take(Key::escape))
        answer = false;
    ImguiCanvas canvas = context.canvas();
    area.top += paragraph(canvas, question.title, area, k_lead * look.scale, look.palette->ink,
                          plot::Weight::bold) +
                14.0 * look.scale;
    for (const std::string& line : question.lines)
        area.top += paragraph(canvas, line, area, k_body * look.scale, look.palette->ink) +
                    8.0 * look.scale;
    ImGui::End();
    keys.clear();
    return answer;
}

} // namespace

bool ask(const Question& question) {
    Happenings happenings;
    Preferences preferences = read_preferences();
    NativeWindow window(happenings, {.left = 0, .top = 0, .width = 0, .height = 0, .whole = false});
    glfwSetWindowSize(window.get(), 900, 560);
    Look look;
    look.palette = preferences.dark ? &plot::dark_palette() : &plot::light_palette();
    int owed = k_settling_pictures;
    while (glfwWindowShouldClose(window.get()) == GLFW_FALSE) {
        if (owed > 0)
            glfwPollEvents();
        else
            glfwWaitEvents();
        owed = happenings.any ? k_settling_pictures : owed - 1;
        happenings.any = false;
        NativeWindow::begin_picture(happenings);
        const ImVec2 size = ImGui::GetIO().DisplaySize;
        // A small window with letters as large as in the large one.
        const double scale = scale_for(1.4 * static_cast<double>(size.x),
                                       1.4 * static_cast<double>(size.y), preferences.text_size);
        if (look.fonts.regular.empty() || scale != look.scale) {
            const bool first = look.fonts.regular.empty();
            look.scale = scale;
            look.fonts = cut_fonts(scale);
            if (!first) {
                ImGui_ImplOpenGL3_DestroyFontsTexture();
                ImGui_ImplOpenGL3_CreateFontsTexture();
            }
        }
        dress(look);
        ImGui_ImplOpenGL3_NewFrame();
        ImGui::NewFrame();
        const auto answer = draw(question, look, happenings.keys, preferences);
        ImGui::Render();
        int width = 0;
        int height = 0;
        glfwGetFramebufferSize(window.get(), &width, &height);
        glViewport(0, 0, width, height);
        ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
        glfwSwapBuffers(window.get());
        happenings.waiting.drawn(0, false);
        owed = std::max(owed, happenings.waiting.empty() ? 0 : 1);
        if (answer)
            return *answer;
    }
    return false;
}

} // namespace platewright::screen

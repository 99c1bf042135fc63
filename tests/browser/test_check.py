"""The check page in a real browser: switches, remedies, the animation, and what lights what."""

from __future__ import annotations

import re
from dataclasses import replace
from io import BytesIO

import pytest
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.core.check.moments import moments
from plays.core.check.setting import Setting, checked, usual_defence
from plays.core.play import AgeGroup, Cue, Moment
from plays.core.words.speaker import Voice
from plays.models import Play
from tests.browser.conftest import PHONE, Opener
from tests.cast import Cast
from tests.plays.core.samples import with_cues

SPAN = 0.3  # points by which a shape in the picture may be off: centimetres are rounded


@pytest.fixture
def waiting(cast: Cast) -> Play:
    """Gangway with its first cutter told to wait too long for the count."""
    play = demo_play("gangway")
    late = with_cues(play, play.looks[0].action, Cue(Moment.SIGNAL, wait=4.5))
    return factories.published(replace(late, key="late", name="Late"))


def ready(page: Page) -> None:
    expect(page.locator(".stage")).to_have_attribute("data-ready", "yes")


def now(page: Page) -> float:
    return float(page.locator(".stage").get_attribute("data-now") or -1)


def shift(page: Page, role: str) -> tuple[float, float]:
    moved = page.locator(f'.stage [data-mover="{role}"]').get_attribute("transform") or ""
    x, y = re.findall(r"-?[\d.]+", moved)
    return float(x), float(y)


def test_one_wait_flips_one_finding(opened: Opener, cast: Cast, waiting: Play) -> None:
    page = opened("/library/late/check/?age=U14", cast.keeper)
    late = page.locator('.finding[data-code="count_over"]').filter(has_not_text="counter:")
    expect(late).to_have_count(1)
    others = page.locator(".finding:not([data-code=count_over])")
    expect(page.locator(".verdict")).to_contain_text("Not as it is")
    assert others.count() >= 0
    late.get_by_role("button", name="Apply in a draft").click()
    expect(page).to_have_url(re.compile(r"/library/late/revisions/2/check/\?age=U14$"))
    expect(page.locator("body")).to_contain_text("this is the check of the draft")
    expect(late).to_have_count(0)
    page.goto("/library/late/check/?age=U14")
    expect(late).to_have_count(1)  # what is published has not changed


def test_switches_bring_other_results_without_a_reload(opened: Opener, cast: Cast) -> None:
    factories.published(demo_play("breakwater"))
    page = opened("/library/breakwater/check/?age=adult", cast.head)
    page.evaluate("window.stayed = true")
    for age in (AgeGroup.U10, AgeGroup.U16):
        page.get_by_label("Age group").select_option(age.value)
        play = demo_play("breakwater")
        report = checked(play, Setting(age, defence=usual_defence(play)))
        expect(page.locator(".finding")).to_have_count(len(report.findings))
        expect(page).to_have_url(re.compile(f"age={age.value}"))
    page.get_by_label("Defence").select_option("switch")
    expect(page.locator(".verdict")).to_contain_text("Defence: switch")
    ready(page)
    assert page.evaluate("window.stayed") is True
    page.go_back()
    expect(page.locator(".verdict")).to_contain_text("as drawn")


def test_without_script_the_same_page_says_the_same(opened: Opener, cast: Cast) -> None:
    page = opened("/library/gangway/check/", cast.head, java_script_enabled=False)
    expect(page.locator(".strip-wide svg")).to_be_visible()
    expect(page.locator(".stage-controls")).to_be_hidden()
    page.get_by_label("Age group").select_option("U10")
    page.get_by_role("button", name="Check", exact=True).click()
    expect(page.locator(".verdict")).to_contain_text("U10")
    page.get_by_text("Moment by moment, in words").click()
    assert page.locator("#moments li").count() > 10


def test_the_animation_shows_the_timeline_by_keyboard(opened: Opener, cast: Cast) -> None:
    page = opened("/library/gangway/check/?age=U14", cast.head)
    ready(page)
    assert now(page) == 0.0
    play = demo_play("gangway")
    line = checked(play, Setting(AgeGroup.U14, defence=usual_defence(play))).line
    page.locator(".stage").focus()
    for _ in range(21):
        page.keyboard.press("ArrowRight")
    assert now(page) == pytest.approx(2.1, abs=1e-6)
    scale = float(page.locator(".stage").get_attribute("data-scale") or 0)
    for role in ("2", "4", "5"):
        track = line.tracks[role]
        gone = (track.at(2.1) - track.start) * scale
        assert shift(page, role) == pytest.approx((gone.real, gone.imag), abs=SPAN)
    page.keyboard.press("ArrowLeft")
    assert now(page) == pytest.approx(2.0, abs=1e-6)
    told = sorted({round(each.at, 2) for each in moments(line, Voice())})
    page.keyboard.press("Shift+ArrowRight")
    assert now(page) == pytest.approx(next(at for at in told if at > 2.01), abs=0.011)
    page.keyboard.press("End")
    assert now(page) >= line.end
    page.keyboard.press("Home")
    page.keyboard.press(" ")
    expect(page.locator("[data-part=play]")).to_have_text("Pause")
    going = re.compile(r"^(0\.[3-9]|[1-9])")
    expect(page.locator(".stage")).to_have_attribute("data-now", going)
    page.keyboard.press(" ")
    expect(page.locator("[data-part=play]")).to_have_text("Watch it")
    stopped = now(page)
    page.wait_for_timeout(200)
    assert now(page) == stopped


def test_a_look_that_is_chosen_is_the_one_that_is_thrown(opened: Opener, cast: Cast) -> None:
    page = opened("/library/gangway/check/?age=U14", cast.head)
    ready(page)
    throw = page.get_by_label("Throw", exact=True)
    says = page.locator(".stage [data-part=says]")
    for row in throw.locator("option").all()[1:]:
        number_and_words = row.inner_text()
        passer, receiver = re.findall(r"\d", number_and_words.partition(". ")[2])[:2]
        with page.expect_response("**/motion/?*look=*"):
            throw.select_option(row.get_attribute("value"))
        expect(page.locator(".stage")).to_have_attribute("data-now", "0.00")
        told = []
        while float(page.locator("[data-part=time]").get_attribute("max") or 0) > now(page) + 0.01:
            page.get_by_role("button", name="Next moment", exact=True).click()
            told.append(says.inner_text())
        thrown = re.compile(rf"The {passer} throws (a lob )?to the {receiver}[.]")
        assert any(thrown.search(each) for each in told), (number_and_words, told)


def test_it_plays_at_half_speed_and_stops_at_the_end(opened: Opener, cast: Cast) -> None:
    page = opened("/library/gangway/check/", cast.head)
    ready(page)
    page.clock.install(time=0)
    page.clock.pause_at(60_000)
    page.get_by_label("half speed").check()
    page.get_by_role("button", name="Watch it").click()
    page.clock.run_for(2000)
    assert now(page) == pytest.approx(1.0, abs=0.1)
    page.get_by_label("half speed").uncheck()
    page.clock.run_for(20_000)
    expect(page.locator("[data-part=play]")).to_have_text("Watch it")
    expect(page.locator("[data-part=clock]")).not_to_have_text("0.0 s")


def test_less_motion_goes_from_moment_to_moment(opened: Opener, cast: Cast) -> None:
    page = opened("/library/gangway/check/", cast.head, reduced_motion="reduce")
    ready(page)
    button = page.locator("[data-part=play]")
    expect(button).to_have_text("Next moment")
    button.click()
    first = now(page)
    assert first > 0
    page.wait_for_timeout(300)
    assert now(page) == first
    expect(page.locator(".stage-says")).to_have_text("The signal.")


def test_a_findings_button_shows_its_moment(opened: Opener, cast: Cast, waiting: Play) -> None:
    page = opened("/library/late/check/?age=U14", cast.head)
    ready(page)
    button = page.locator(".finding").first.get_by_role("button", name="Show this moment")
    at = float(button.get_attribute("data-at") or 0)
    button.click()
    assert now(page) == pytest.approx(at, abs=0.011)


def test_strip_and_diagram_light_each_other(opened: Opener, cast: Cast) -> None:
    page = opened("/library/gangway/check/", cast.head)
    ready(page)
    bar = page.locator(".strip-wide [data-part=bar]").first
    action = bar.get_attribute("data-action")
    line = page.locator(f'.check-figures [data-action="{action}"]').first
    bar.hover()
    expect(line).to_have_class(re.compile(r"\blit\b"))
    page.locator("h1").hover()
    expect(line).not_to_have_class(re.compile(r"\blit\b"))
    line.locator("path").last.hover(force=True)
    expect(bar).to_have_class(re.compile(r"\blit\b"))
    page.locator("h1").hover()
    expect(bar).not_to_have_class(re.compile(r"\blit\b"))


def test_the_strip_is_read_by_keyboard(opened: Opener, cast: Cast) -> None:
    page = opened("/library/gangway/check/", cast.head)
    ready(page)
    bars = page.locator(".strip-wide svg [tabindex]")
    assert page.locator('.strip-wide svg [tabindex="0"]').count() == 1
    bars.first.focus()
    page.keyboard.press("ArrowRight")
    second = page.evaluate("document.activeElement.dataset.action")
    assert second == bars.nth(1).get_attribute("data-action")
    for place in (".strip-wide", ".check-figures"):
        lit = page.locator(f'{place} .lit[data-action="{second}"]')
        expect(lit.first).to_be_visible()
    label = page.evaluate("document.activeElement.getAttribute('aria-label')")
    assert re.search(r"\d s", label)


def test_a_tap_keeps_it_lit_and_another_lets_go(opened: Opener, cast: Cast) -> None:
    page = opened("/library/gangway/check/", cast.head, PHONE, has_touch=True)
    ready(page)
    page.wait_for_load_state("networkidle")  # what comes later moves what a finger aims at
    bar = page.locator(".strip-narrow [data-part=bar]").first
    bar.tap()
    expect(bar).to_have_class(re.compile(r"\blit\b"))
    expect(page.locator("#check")).to_have_class(re.compile("has-lit"))
    page.evaluate("document.activeElement.blur()")
    expect(bar).to_have_class(re.compile(r"\blit\b"))
    bar.tap()
    page.evaluate("document.activeElement.blur()")
    expect(bar).not_to_have_class(re.compile(r"\blit\b"))


def test_it_prints_on_a4(opened: Opener, cast: Cast) -> None:
    """What a coach takes along: verdict, strip, findings, phases, looks; no switches or buttons."""
    factories.published(demo_play("breakwater"))
    page = opened("/library/breakwater/check/?age=U10", cast.keeper)
    ready(page)
    sheets = PdfReader(BytesIO(page.pdf(format="A4"))).pages
    said = " ".join(" ".join(sheet.extract_text().split()) for sheet in sheets)
    assert len(sheets) <= 4
    assert all(sheet.mediabox.width < 596 for sheet in sheets)  # A4: ISO 216, 210 mm
    play = demo_play("breakwater")
    report = checked(play, Setting(AgeGroup.U10, defence=usual_defence(play)))
    for finding in report.findings:
        assert finding.sentence in said
    for words in ("signal", "Is each look there?", "What the check leaves out"):
        assert words in said
    for words in ("Apply in a draft", "half speed", "Show this moment", "To the play"):
        assert words not in said


def test_the_table_fills_itself(working: None, opened: Opener, cast: Cast) -> None:
    for key in ("breakwater", "lamp-row"):
        factories.published(demo_play(key))
    page = opened("/library/files/checks/", cast.head)
    expect(page.locator(".checks-table td .mark")).to_have_count(3 * 9, timeout=20_000)
    expect(page.locator("form.note")).to_have_count(0)
    page.get_by_role("link", name="Breakwater").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Breakwater")

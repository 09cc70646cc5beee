"""Addresses of quotes."""

from django.urls import path

from quoting.offer import life_pages, pages, risk_pages, room_pages, setting_out_pages

urlpatterns = [
    path("", pages.quotes, name="quotes"),
    path("new/", room_pages.new, name="quote-new"),
    path("new/from-file/", room_pages.from_file, name="quote-from-file"),
    path("live/", room_pages.live, name="rooms-live"),
    path("<int:quote_id>/edit/", room_pages.edit, name="quote-edit"),
    path("<int:quote_id>/", pages.quote, name="quote"),
    path("<int:quote_id>/rooms/", pages.rooms_measured, name="rooms-measured"),
    path("<int:quote_id>/buying-list/", pages.buying_list, name="buying-list"),
    path("<int:quote_id>/lines/<int:index>/", pages.line_why, name="line-why"),
    path("<int:quote_id>/paper.pdf", pages.paper, name="quote-paper"),
    path("<int:quote_id>/work-sheet/", pages.work_sheet, name="work-sheet"),
    path("<int:quote_id>/send/", pages.send, name="quote-send"),
    path("<int:quote_id>/risk/", risk_pages.risk, name="quote-risk"),
    path("<int:quote_id>/setting-out/", setting_out_pages.setting_out, name="setting-out"),
    path("<int:quote_id>/setting-out/surface/", setting_out_pages.change_surface, name="setting-out-surface"),
    path("<int:quote_id>/setting-out/depths/", setting_out_pages.change_depths, name="setting-out-depths"),
    path("<int:quote_id>/setting-out.pdf", setting_out_pages.setting_out_sheet, name="setting-out-sheet"),
    path("<int:quote_id>/price-again/", life_pages.price_again, name="price-again"),
    path("<int:quote_id>/revise/", life_pages.revise, name="quote-revise"),
    path("<int:quote_id>/decline/", life_pages.decline, name="quote-decline"),
    path("<int:quote_id>/copy/", life_pages.copy, name="quote-copy"),
    path("<int:quote_id>/make-template/", life_pages.make_template, name="quote-template"),
    path("<int:quote_id>/compare/<int:other_id>/", life_pages.compare, name="quote-compare"),
    path("<int:quote_id>/change-line/", pages.change_line, name="change-line"),
    path("<int:quote_id>/add-work/", pages.add_work, name="add-work"),
    path("<int:quote_id>/discount/", pages.discount, name="quote-discount"),
    path("<int:quote_id>/options/", pages.options, name="quote-options"),
]

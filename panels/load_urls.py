"""The pages of load calculations and of the editions they are made by."""

from django.urls import path

from panels.views import adoptions, calculations, fit, load, meter, recalculations, shop

urlpatterns = [
    path("sites/<uuid:pk>/load/", load.page, name="load"),
    path("sites/<uuid:pk>/load/home/", load.home, name="load-home"),
    path("sites/<uuid:pk>/load/shop/", shop.shop, name="load-shop"),
    path("sites/<uuid:pk>/fit/", fit.page, name="fit"),
    path("sites/<uuid:pk>/load/add/", load.add, name="load-add"),
    path("sites/<uuid:pk>/load/<uuid:load_id>/restore/", load.restore, name="load-restore"),
    path("loads/<uuid:pk>/", load.change, name="load-change"),
    path("loads/<uuid:pk>/remove/", load.remove, name="load-remove"),
    path("calculations/<uuid:pk>/", calculations.page, name="calculation"),
    path("calculations/<uuid:pk>/worksheet.pdf", calculations.worksheet, name="worksheet"),
    path(
        "calculations/<uuid:pk>/against/<uuid:other>/",
        calculations.against,
        name="calculation-against",
    ),
    path("sites/<uuid:pk>/meter/", meter.page, name="meter"),
    path("meter/<uuid:pk>/", meter.one, name="meter-file"),
    path("meter/<uuid:pk>/remove/", meter.remove, name="meter-remove"),
    path("adoptions/", adoptions.page, name="adoptions"),
    path("adoptions/add/", adoptions.add, name="adoption-add"),
    path("adoptions/<uuid:pk>/", adoptions.change, name="adoption-change"),
    path("adoptions/<uuid:pk>/remove/", adoptions.remove, name="adoption-remove"),
    path("adoptions/<uuid:pk>/recalculate/", recalculations.ask, name="recalculate"),
    path("recalculations/<uuid:pk>/", recalculations.page, name="recalculation"),
    path("recalculations/<uuid:pk>/homes.csv", recalculations.export, name="recalculation-export"),
    path("recalculations/<uuid:pk>/stop/", recalculations.stop, name="recalculation-stop"),
    path("recalculations/<uuid:pk>/go-on/", recalculations.go_on, name="recalculation-go-on"),
]

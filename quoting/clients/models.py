"""Clients and the sites where work is done."""

from django.db import models

from labour.firm.models import FirmRow


class Client(FirmRow):
    """Who is quoted to."""

    name = models.CharField(max_length=120)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    address = models.TextField("postal address", max_length=400, blank=True)
    created_at = models.DateTimeField()

    class Meta:
        indexes = [models.Index(fields=["firm", "name"], name="client_firm_name")]

    def __str__(self) -> str:
        return self.name


class Site(FirmRow):
    """A house where work is done. year_built decides cautions; unknown is treated as old."""

    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="sites")
    address = models.TextField("site address", max_length=400)
    year_built = models.PositiveSmallIntegerField(null=True, blank=True)
    is_occupied = models.BooleanField("lived in during the work", default=True)
    storeys_to_carry = models.PositiveSmallIntegerField("flights of stairs", default=0)
    notes = models.TextField(max_length=2000, blank=True)

    def __str__(self) -> str:
        return self.address.splitlines()[0] if self.address else f"site {self.pk}"

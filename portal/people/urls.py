"""Addresses of the door, of accounts and staff, and of the roster."""

from django.urls import path

from portal.people.views import account, again, door, roster, second_step

app_name = "people"
urlpatterns = [
    path("sign-in/", door.sign_in, name="sign-in"),
    path("sign-in/code/", door.code, name="code"),
    path("sign-in/link/", door.link, name="link"),
    path("sign-in/staff/", door.staff_sign_in, name="staff-sign-in"),
    path("sign-in/second-step/", second_step.take, name="second-step"),
    path("sign-in/again/", again.again, name="again"),
    path("come-in/", door.come_in, name="come-in"),
    path("come-in/confirm/", door.confirm, name="confirm"),
    path("sign-out/", door.sign_out, name="sign-out"),
    path("account/", account.account, name="account"),
    path("account/address/", account.address, name="address"),
    path("account/address/code/", account.address_code, name="address-code"),
    path("account/password/", account.password, name="password"),
    path("account/devices/end/", account.end_other_devices, name="devices-end"),
    path("account/devices/<int:device_pk>/end/", account.end_device, name="device-end"),
    path("account/second-step/", second_step.set_up, name="second-step-set"),
    path("account/second-step/codes/", second_step.recovery_codes, name="recovery-codes"),
    path("account/second-step/remove/", second_step.remove, name="second-step-remove"),
    path("classes/", roster.classes, name="classes"),
    path("classes/<int:class_pk>/homes/", roster.roster, name="roster"),
    path("children/<int:child_pk>/invite/", roster.invite, name="invite"),
    path("children/<int:child_pk>/revoke/", roster.revoke, name="revoke"),
]

@echo off
rem The command `platewright` of this checkout, from any folder.
where /q py
if errorlevel 1 goto plain
py -3 "%~dp0platewright" %*
exit /b %errorlevel%
:plain
python "%~dp0platewright" %*
exit /b %errorlevel%

@echo off
rem run ARGS is evencast ARGS, in the caller's directory. The first call sets up .venv beside it.
setlocal
set "here=%~dp0"
set "env=%here%.venv"
set "pinned=%here%requirements\run.txt"
set PYTHONDONTWRITEBYTECODE=
set PYTHONPATH=
set PYTHONHOME=

if exist "%env%\Scripts\python.exe" fc /b "%pinned%" "%env%\ready.txt" >nul 2>&1 && goto start

set python=
for %%p in ("py -3" python3 python) do if not defined python (
    %%~p -c "import sys; sys.exit(sys.version_info < (3, 11))" >nul 2>&1 && set "python=%%~p"
)
if not defined python (
    echo evencast: no Python 3.11 or newer was found under the names py, python3, python. 1>&2
    echo evencast: Install one from https://www.python.org/downloads/ and run this again. 1>&2
    exit /b 2
)
echo evencast: setting up once in %env% ^(a minute or two; needs the network^) 1>&2
%python% -m venv --clear "%env%" 1>&2 || goto failed
"%env%\Scripts\python.exe" -m pip install --quiet --disable-pip-version-check --no-input ^
    --require-hashes --requirement "%pinned%" 1>&2 || goto failed
echo ..\..\..\src>"%env%\Lib\site-packages\evencast.pth"
copy /b "%pinned%" "%env%\ready.txt" >nul || goto failed

:start
"%env%\Scripts\python.exe" -P -m evencast %*
exit /b %errorlevel%

:failed
echo evencast: set-up did not finish; the reason stands above. Run again to try once more. 1>&2
exit /b 2
